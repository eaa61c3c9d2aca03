//! Files: those below some folders.
#![expect(clippy::disallowed_methods, reason = "it reads the house")]

use std::path::{Path, PathBuf};

/// Every file with one of the endings below some folders of a root, sorted.
pub fn below(root: &Path, folders: &[&str], endings: &[&str]) -> Vec<PathBuf> {
    let mut open: Vec<PathBuf> = folders.iter().map(|folder| root.join(folder)).collect();
    let mut files = Vec::new();
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|end| endings.iter().any(|known| end == *known)) {
                files.push(path);
            }
        }
    }
    files.sort();
    files
}
