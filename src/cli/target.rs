//! Target: a cover file that was typed, the folder it stands in, and the name its outputs get.
#![expect(clippy::disallowed_methods, reason = "a typed name may be a file or a folder; the disk knows")]

use crate::build::Commission;
use crate::cli::say::stopped;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// What a cover is called when its folder names it.
pub const COVER: &str = "cover.kdl";
/// Where outputs go, beside the cover file.
const OUT: &str = "out";

#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// As messages call it: the path that was typed.
    pub shown: String,
    pub folder: PathBuf,
    /// What is built of it.
    pub commission: Commission,
    /// What the names of outputs begin with.
    pub stem: String,
    pub out: PathBuf,
}

/// The targets of what was typed; `None` when that cannot be, which has been said.
pub fn targets(typed: &[PathBuf], out: Option<&Path>) -> Option<Vec<Target>> {
    let mut all: Vec<Target> = Vec::new();
    for path in typed {
        match target(path, out) {
            Ok(target) if all.contains(&target) => {}
            Ok(target) => all.push(target),
            Err((why, help)) => {
                stopped(&why, &help);
                return None;
            }
        }
    }
    let mut names: BTreeMap<(&Path, &str), &Target> = BTreeMap::new();
    for target in &all {
        if let Some(other) = names.insert((&target.out, &target.stem), target) {
            let why = format!("{} and {} would both write {}-press.pdf", other.shown, target.shown, target.stem);
            let help = format!("build them into folders of their own: both go to {}", target.out.display());
            stopped(&why, &help);
            return None;
        }
    }
    Some(all)
}

type Told = (String, String);

fn target(typed: &Path, out: Option<&Path>) -> Result<Target, Told> {
    let path = if typed.is_dir() { typed.join(COVER) } else { typed.to_owned() };
    let name = path.file_name().and_then(|name| name.to_str());
    let Some(file) = name.map(str::to_owned) else {
        return Err((format!("{} is not a name that can be written", typed.display()), "use letters".to_owned()));
    };
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    };
    let stem = stem(&file, &folder);
    let out = out.map_or_else(|| folder.join(OUT), Path::to_owned);
    let commission = Commission::of(&file);
    Ok(Target { shown: path.display().to_string(), folder, commission, stem, out })
}

/// The folder's name for a `cover.kdl`, else the file's own.
fn stem(file: &str, folder: &Path) -> String {
    let own = file.strip_suffix(".kdl").unwrap_or(file).to_owned();
    if file != COVER {
        return own;
    }
    // `.` and `..` are names only after the disk has been asked.
    let real = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    real.file_name().and_then(|name| name.to_str()).map_or(own, str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cover_is_named_by_its_folder_and_other_files_by_themselves() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let book = home.path().join("salt-and-lanterns");
        std::fs::create_dir_all(&book).expect("a folder");
        let named = |typed: &Path| target(typed, None).expect("can be built");
        assert_eq!(named(&book), named(&book.join("cover.kdl")));
        assert_eq!(named(&book).stem, "salt-and-lanterns");
        assert_eq!(named(&book).out, book.join("out"));
        assert_eq!(named(&book.join("case.kdl")).stem, "case");
        assert_eq!(target(&book, Some(Path::new("x"))).expect("can be built").out, Path::new("x"));
    }

    #[test]
    fn two_covers_never_write_one_file() {
        let typed = [PathBuf::from("a/x.kdl"), PathBuf::from("b/x.kdl")];
        assert_eq!(targets(&typed, None).map(|all| all.len()), Some(2));
        assert_eq!(targets(&typed, Some(Path::new("out"))), None);
        let twice = [PathBuf::from("a/x.kdl"), PathBuf::from("a/x.kdl")];
        assert_eq!(targets(&twice, Some(Path::new("out"))).map(|all| all.len()), Some(1));
    }
}
