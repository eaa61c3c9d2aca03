//! Output lists: what was made of each cover, kept in the folder where it lies, so that files which no cover makes any more
//! can be taken away: those of a renamed title, of an edition that is gone.
//!
//! A list holds the SHA-256 and the name of every file, as `sha256sum --check` reads them, under a line that names the
//! cover file. Every cover has a list of its own, for many machines may write into one folder at once.
#![expect(clippy::disallowed_methods, reason = "it compares files with what was written of them")]

use crate::disk::{WriteFault, relative, withdraw, write};
use crate::ground::Digest;
use crate::targets::{KnownCover, Target};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The folder of the lists, in the folder of the outputs.
const FOLDER: &str = "jaconet.outputs";
const ENDING: &str = ".sha256";
const HEAD: &str = "# made of ";
/// So long may a list be that is read: it names a few files.
const LONGEST: u64 = 1 << 16;

/// A file as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenFile {
    pub path: PathBuf,
    pub bytes: u64,
    pub sha256: Digest,
}

/// Notes what was written of a cover. What was not wanted this time stays in the list while it stands in the folder.
pub fn keep_list(target: &Target, written: &[WrittenFile]) -> Result<(), WriteFault> {
    let Some(source) = relative(&target.out, &source(target)) else { return Ok(()) };
    let path = list_of(target);
    let old = read(&path).map(|list| list.files).unwrap_or_default();
    let mut files: BTreeMap<String, String> =
        old.into_iter().filter(|(name, _)| target.out.join(name).is_file()).collect();
    for WrittenFile { path, sha256, .. } in written {
        files.extend(path.file_name().and_then(|name| name.to_str()).map(|name| (name.to_owned(), sha256.to_string())));
    }
    let lines = files.iter().filter(|(name, _)| is_plain(name));
    let lines: Vec<String> = lines.map(|(name, sha256)| format!("{sha256}  {name}\n")).collect();
    let lines = lines.concat();
    if is_plain(&source) { write(&path, format!("{HEAD}{source}\n{lines}").as_bytes()) } else { Ok(()) }
}

/// The file of a cover, or of its catalogue.
fn source(target: &Target) -> PathBuf {
    PathBuf::from(&target.shown)
}

/// A name that stands on a line as it is.
fn is_plain(name: &str) -> bool {
    !name.contains(|letter: char| letter.is_control() || letter == '\\')
}

/// Files that the list of a cover names, as far as they are as they were made.
pub fn as_made(target: &Target, wanted: impl Fn(&str) -> bool) -> Vec<PathBuf> {
    let files = read(&list_of(target)).map(|list| list.files).unwrap_or_default();
    let files = files.into_iter().filter(|(name, _)| wanted(name));
    let files = files.map(|(name, sha256)| (target.out.join(name), sha256));
    let is_ours = |(path, sha256): &(PathBuf, String)| {
        std::fs::read(path).is_ok_and(|bytes| Digest::of_file(&bytes).to_string() == *sha256)
    };
    files.filter(is_ours).map(|(path, _)| path).collect()
}

fn list_of(target: &Target) -> PathBuf {
    target.out.join(FOLDER).join(format!("{}{ENDING}", target.stem))
}

struct OutputList {
    source: String,
    /// SHA-256 by name.
    files: BTreeMap<String, String>,
}

/// `None` for what is no list of ours.
fn read(path: &Path) -> Option<OutputList> {
    let short = std::fs::metadata(path).is_ok_and(|about| about.is_file() && about.len() <= LONGEST);
    let text = std::fs::read_to_string(path).ok().filter(|_| short)?;
    let mut lines = text.lines();
    let source = lines.next()?.strip_prefix(HEAD)?.to_owned();
    let file = |line: &str| {
        let (sha256, name) = line.split_once("  ")?;
        // A list never leads out of its folder.
        (Path::new(name).file_name()? == name).then(|| (name.to_owned(), sha256.to_owned()))
    };
    Some(OutputList { source, files: lines.map(file).collect::<Option<_>>()? })
}

/// Files that no cover makes any more, with their list.
pub struct Leftover {
    list: PathBuf,
    folder: PathBuf,
    files: BTreeMap<String, String>,
}

/// What became of a leftover file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakenAway {
    pub path: PathBuf,
    /// It was changed since it was made, and is left where it is.
    pub is_left: bool,
}

/// What earlier runs made of the same files, of which no cover comes now. Lists of other files are left alone, unless
/// their file is gone from a folder of these.
pub fn leftovers(known: &[KnownCover]) -> Vec<Leftover> {
    let real = |path: &Path| {
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        Some(std::fs::canonicalize(folder).ok()?.join(path.file_name()?))
    };
    let sources: BTreeSet<PathBuf> = known.iter().filter_map(|cover| real(&cover.source)).collect();
    let folders: BTreeSet<&Path> = sources.iter().filter_map(|source| source.parent()).collect();
    let outs: BTreeSet<&Path> = known.iter().map(|cover| cover.out.as_path()).collect();
    let mut found = Vec::new();
    for out in outs {
        // As two covers are told apart: not by capitals alone.
        let stems: BTreeSet<String> =
            known.iter().filter(|cover| cover.out == out).map(|cover| cover.stem.to_lowercase()).collect();
        let lists = std::fs::read_dir(out.join(FOLDER)).into_iter().flatten().flatten();
        for list in lists.map(|entry| entry.path()) {
            let stem = list.file_name().and_then(|name| name.to_str()?.strip_suffix(ENDING)).map(str::to_lowercase);
            if stem.is_none_or(|stem| stems.contains(&stem)) {
                continue;
            }
            let Some(OutputList { source, files }) = read(&list) else { continue };
            let Some(source) = real(&out.join(source)) else { continue };
            let is_gone = !source.exists() && source.parent().is_some_and(|folder| folders.contains(folder));
            if sources.contains(&source) || is_gone {
                found.push(Leftover { list, folder: out.to_owned(), files });
            }
        }
    }
    found.sort_by(|one, other| one.list.cmp(&other.list));
    found
}

/// Takes leftovers away: only files that are as they were made, and that no cover reads.
pub fn take_away(leftovers: &[Leftover], read: &BTreeSet<PathBuf>) -> Result<Vec<TakenAway>, WriteFault> {
    let mut taken = Vec::new();
    for Leftover { list, folder, files } in leftovers {
        for (name, sha256) in files {
            let path = folder.join(name);
            let Ok(bytes) = std::fs::read(&path) else { continue };
            let is_read = std::fs::canonicalize(&path).is_ok_and(|real| read.contains(&real));
            let is_left = is_read || Digest::of_file(&bytes).to_string() != *sha256;
            if is_left || withdraw(&path)? {
                taken.push(TakenAway { path, is_left });
            }
        }
        withdraw(list)?;
    }
    Ok(taken)
}
