//! Past: the shelf that is one revision of a git repository, read through the `git` program.

use crate::assets::{Shelf, ShelfFault, is_cover, nearest, tidy, too_large};
use crate::disk::{OUT, in_words};
use crate::record::CoverRequest;
use crate::targets::catalogue::catalogue;
use crate::targets::{Refusal, Target};
use std::collections::BTreeMap;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

/// Files of a revision; paths count from the folder it was opened in.
#[derive(Debug, PartialEq)]
pub struct Past {
    folder: PathBuf,
    /// The name of the revision, in hexadecimal digits.
    commit: String,
    /// The folder's path in the repository: empty, or with `/` at its end.
    prefix: String,
    files: BTreeMap<String, Blob>,
}

#[derive(Clone, Debug, PartialEq)]
struct Blob {
    name: String,
    link: bool,
    bytes: u64,
}

/// What a file begins with that git keeps elsewhere (the pointer files of Git LFS, by its specification).
const POINTER: &[u8] = b"version https://git-lfs";
/// A link may lead to a link so many times.
const LINKS: usize = 8;

impl Past {
    /// The repository that holds `folder`, as `revision` has it.
    pub fn open(folder: &Path, revision: &str) -> Result<Past, Refusal> {
        let refused = revision.is_empty() || revision.starts_with('-');
        if refused {
            let help = "write a branch, a tag, or a commit: main, v2, HEAD~1, 3f2a91c";
            return Err(refusal(format!("`{revision}` is not a revision"), help));
        }
        let prefix = git(folder, &["rev-parse", "--show-prefix"]).map_err(|fault| fault.refusal(folder))?;
        let prefix = text(&prefix);
        let wanted = format!("{revision}^{{commit}}");
        let commit = git(folder, &["rev-parse", "--verify", "--quiet", &wanted]).map_err(|fault| match fault {
            GitFault::Refused(_) => refusal(
                format!("the repository of {} has no revision `{revision}`", folder.display()),
                "`git log` lists commits, `git branch` and `git tag` list names",
            ),
            GitFault::Absent(_) => fault.refusal(folder),
        })?;
        let listing = ["ls-tree", "-r", "-l", "-z", "--full-tree", &text(&commit)];
        let listing = git(folder, &listing).map_err(|fault| fault.refusal(folder))?;
        let files = listing.split(|byte| *byte == 0).filter_map(entry).collect();
        Ok(Past { folder: folder.to_owned(), commit: text(&commit), prefix, files })
    }

    /// How git names the revision, whatever it was called.
    pub fn commit(&self) -> &str {
        &self.commit
    }

    /// Every file of the revision under the folder, by its path from there.
    pub fn below(&self) -> Vec<String> {
        let own = self.files.keys().filter_map(|path| path.strip_prefix(&self.prefix));
        own.map(str::to_owned).collect()
    }

    /// A cover as the revision has it: the title of a catalogue with the row it had then. `None` when it was not there.
    pub fn request(&self, target: &Target) -> Option<CoverRequest> {
        let now = &target.request;
        let Some(wanted) = &now.title else { return self.has(&now.path).then(|| now.clone()) };
        let file = Path::new(&target.shown).file_name()?.to_str()?;
        let then = catalogue(self, file).ok()?;
        let title = then.titles.into_iter().find(|title| title.stem == wanted.stem)?;
        Some(CoverRequest { path: then.template, title: Some(title), ..now.clone() })
    }

    /// Whether a path is a file of the revision.
    fn has(&self, path: &str) -> bool {
        self.find(path).is_some()
    }

    fn find(&self, path: &str) -> Option<&Blob> {
        let mut path = tidy(&format!("{}{path}", self.prefix));
        for _ in 0..LINKS {
            let blob = self.files.get(&path)?;
            if !blob.link {
                return Some(blob);
            }
            let target = git(&self.folder, &["cat-file", "blob", &blob.name]).ok()?;
            let folder = path.rsplit_once('/').map_or("", |(folder, _)| folder);
            let target = tidy(&format!("{folder}/{}", String::from_utf8_lossy(&target)));
            target.trim_start_matches('/').clone_into(&mut path);
        }
        None
    }
}

impl Shelf for Past {
    fn read(&self, path: &str) -> Result<Arc<[u8]>, ShelfFault> {
        let Some(blob) = self.find(path) else {
            let below = self.below();
            return Err(ShelfFault::Missing { nearest: nearest(path, below.iter().map(String::as_str)) });
        };
        if let Some(fault) = too_large(Path::new(path), blob.bytes) {
            return Err(fault);
        }
        let bytes = git(&self.folder, &["cat-file", "blob", &blob.name]);
        let bytes = bytes.map_err(|fault| ShelfFault::Unreadable(fault.refusal(&self.folder).0))?;
        if bytes.starts_with(POINTER) {
            let why = "the revision holds a pointer to it only; its bytes are kept elsewhere";
            return Err(ShelfFault::Unreadable(why.to_owned()));
        }
        Ok(bytes.into())
    }

    fn list(&self, folder: &str) -> Vec<String> {
        let within = format!("{}/", tidy(&format!("{}{folder}", self.prefix)));
        let own = self.files.keys().filter_map(|path| path.strip_prefix(&within));
        let hidden = |path: &str| path.split('/').any(|name| name.starts_with('.'));
        own.filter(|path| !hidden(path)).map(|path| format!("{folder}/{path}")).collect()
    }

    fn covers(&self, folder: &str) -> Vec<String> {
        let all = if folder.is_empty() { self.below() } else { self.list(folder) };
        let written = |path: &str| path.split('/').any(|name| name == OUT || name.starts_with('.') && name != "..");
        all.into_iter().filter(|path| is_cover(path) && !written(path)).collect()
    }
}

/// `100644 blob 3f2a…     217<TAB>path`
fn entry(line: &[u8]) -> Option<(String, Blob)> {
    let line = std::str::from_utf8(line).ok()?;
    let (about, path) = line.split_once('\t')?;
    let parts: Vec<&str> = about.split_whitespace().collect();
    let [mode, "blob", name, bytes] = parts[..] else { return None };
    let blob = Blob { name: name.to_owned(), link: mode == LINK, bytes: bytes.parse().ok()? };
    Some((path.to_owned(), blob))
}

/// The mode of a symbolic link.
const LINK: &str = "120000";

/// Why git gave no answer.
enum GitFault {
    /// It could not be started.
    Absent(Refusal),
    /// What it said.
    Refused(String),
}

impl GitFault {
    fn refusal(self, folder: &Path) -> Refusal {
        match self {
            GitFault::Absent(fault) => fault,
            GitFault::Refused(stated) if stated.contains("not a git repository") => {
                let help = "an older design can also be a built report, or a copy of the folder";
                refusal(format!("{} lies in no git repository", folder.display()), help)
            }
            GitFault::Refused(stated) => refusal(format!("git cannot read {}: {stated}", folder.display()), ""),
        }
    }
}

/// Asks git, without a shell; what it writes out.
fn git(folder: &Path, words: &[&str]) -> Result<Vec<u8>, GitFault> {
    let mut command = Command::new("git");
    // Its words are matched above; a lock would disturb who works there.
    command.env("LC_ALL", "C").env("GIT_OPTIONAL_LOCKS", "0").arg("-C").arg(folder).args(words).stdin(Stdio::null());
    let output = command.output().map_err(|error| {
        let missing = error.kind() == ErrorKind::NotFound;
        let why = if missing {
            "there is no `git` here".to_owned()
        } else {
            format!("`git` does not run: {}", in_words(&error))
        };
        GitFault::Absent(refusal(why, "an older design can also be a built report, or a copy of the folder"))
    })?;
    if output.status.success() {
        return Ok(output.stdout);
    }
    let stated = String::from_utf8_lossy(&output.stderr);
    let first = stated.lines().next().unwrap_or_default().trim_start_matches("fatal: ");
    Err(GitFault::Refused(first.to_owned()))
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).trim_end_matches(['\n', '\r']).to_owned()
}

fn refusal(why: impl Into<String>, help: impl Into<String>) -> Refusal {
    (why.into(), help.into())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_listing_is_read_line_by_line() {
        // As `git ls-tree -r -l -z` documents it: mode, type, object, size padded, tab, path.
        let (path, blob) = entry(b"120000 blob 0a1b2c     217\tart/a b.tif").expect("a file");
        assert_eq!((path.as_str(), blob.name.as_str(), blob.link, blob.bytes), ("art/a b.tif", "0a1b2c", true, 217));
        assert!(entry(b"160000 commit 0a1b2c       -\tmodule").is_none() && entry(b"").is_none());
    }

    #[test]
    fn a_revision_is_never_an_option() {
        for word in ["-h", "--all", ""] {
            let fault = Past::open(Path::new("."), word).expect_err("it is refused");
            assert!(fault.0.contains("is not a revision"), "{fault:?}");
        }
    }
}
