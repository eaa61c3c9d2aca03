//! CatalogueTitle: the files that a typed folder stands for.
#![expect(clippy::disallowed_methods, reason = "a typed name may be a file or a folder; the disk knows")]

use crate::assets::is_cover;
use crate::disk::OUT;
use crate::targets::COVER;
use std::path::{Path, PathBuf};

/// Folders in folders as far as this are looked into.
const DEPTH: usize = 16;
/// So many names at the most: what was typed may be somebody's whole home.
const NAMES: usize = 50_000;

/// Every file once, in the order typed. `Err` says what cannot be, and a way out.
pub fn typed_files(typed: &[PathBuf]) -> Result<Vec<PathBuf>, (String, String)> {
    let mut all: Vec<PathBuf> = Vec::new();
    for path in typed {
        all.extend(files(path)?.into_iter().map(|file| plain(&file)));
    }
    let mut known = std::collections::BTreeSet::new();
    all.retain(|path| known.insert(path.clone()));
    Ok(all)
}

/// A folder stands for its cover, or, if it has none, for all that lies below it.
fn files(typed: &Path) -> Result<Vec<PathBuf>, (String, String)> {
    if !typed.is_dir() {
        return Ok(vec![typed.to_owned()]);
    }
    if typed.join(COVER).is_file() {
        return Ok(vec![typed.join(COVER)]);
    }
    let shown = typed.display();
    let (mut found, mut left) = (Vec::new(), NAMES);
    let whole = below(typed, DEPTH, &mut left, &mut found);
    if !whole {
        let why = format!("{shown} holds too much to look into: {NAMES} names, or folders {DEPTH} deep, are the limit");
        return Err((why, "name the folders of your covers".to_owned()));
    }
    if found.is_empty() {
        return Err((format!("{shown} holds no .kdl file"), "name the files, or their folder".to_owned()));
    }
    Ok(found)
}

/// Adds the files of a folder, sorted, then those of its folders; hidden names, links and `out` are left out. False
/// when not all was seen.
fn below(folder: &Path, depth: usize, left: &mut usize, found: &mut Vec<PathBuf>) -> bool {
    let mut entries: Vec<_> = std::fs::read_dir(folder).into_iter().flatten().flatten().collect();
    entries.sort_by_key(std::fs::DirEntry::file_name);
    let mut inner = Vec::new();
    for entry in entries {
        let name = entry.file_name();
        let (Some(rest), Ok(kind)) = (left.checked_sub(1), entry.file_type()) else { return false };
        *left = rest;
        let hidden = name.to_string_lossy().starts_with('.');
        if kind.is_file() && !hidden && is_cover(&name) {
            found.push(entry.path());
        } else if kind.is_dir() && !hidden && name != OUT {
            inner.push(entry.path());
        }
    }
    inner.is_empty() || depth > 0 && inner.iter().all(|folder| below(folder, depth - 1, left, found))
}

/// `./a` and `a` are one file.
fn plain(path: &Path) -> PathBuf {
    path.strip_prefix(".").unwrap_or(path).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_stands_for_its_cover_or_for_all_below_it() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let root = home.path();
        for path in ["series.kdl", "one/cover.kdl", "one/case.kdl", "one/out/old.kdl", ".git/x.kdl", "two/blurb.md"] {
            let path = root.join(path);
            std::fs::create_dir_all(path.parent().expect("lies in a folder")).expect("a folder");
            std::fs::write(path, b"").expect("writes");
        }
        let all = |typed: &[&str]| {
            let typed: Vec<PathBuf> = typed.iter().map(|name| root.join(name)).collect();
            let found = typed_files(&typed)?;
            let name = |path: &PathBuf| path.strip_prefix(root).expect("lies below").display().to_string();
            Ok::<Vec<String>, (String, String)>(found.iter().map(name).collect())
        };
        assert_eq!(all(&[""]).expect("some"), ["series.kdl", "one/case.kdl", "one/cover.kdl"]);
        assert_eq!(all(&["one", "one/cover.kdl", "series.kdl"]).expect("some"), ["one/cover.kdl", "series.kdl"]);
        assert_eq!(all(&["none.kdl"]).expect("some"), ["none.kdl"]);
        assert!(all(&["two"]).is_err());
        std::fs::create_dir_all(root.join("two").join("a/".repeat(DEPTH + 2))).expect("folders");
        assert!(all(&["two"]).is_err_and(|(why, _)| why.contains("too much")));
    }
}
