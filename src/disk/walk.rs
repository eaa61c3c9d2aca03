//! Walk: the files and folders under a folder, by name.
#![expect(clippy::disallowed_methods, reason = "it lists folders")]

use crate::assets::is_cover;
use std::path::Path;

/// Where outputs go, beside the cover file.
pub const OUT: &str = "out";

/// Folders in folders as far as this are looked into; links may run in circles.
const DEPTH: usize = 8;

/// So many entries at the most: a cover's folder may be somebody's whole home.
const ENTRIES: usize = 5000;

/// What lies under a folder: names with `/` between them, from the folder, sorted; hidden ones left out.
#[derive(Default)]
pub struct Below {
    pub files: Vec<String>,
    pub folders: Vec<String>,
}

/// The files under a folder.
pub fn walk(place: &Path) -> Vec<String> {
    below(place, true).files
}

/// The files of the language under a folder; where builds write, none is looked for.
pub fn covers(place: &Path) -> Vec<String> {
    let mut found = below(place, false).files;
    found.retain(|path| is_cover(path));
    found
}

/// All under a folder, with what builds wrote or without.
pub fn below(place: &Path, with_written: bool) -> Below {
    let mut found = Below::default();
    let mut left = ENTRIES;
    walk_within(place, "", with_written, &mut left, &mut found);
    found
}

fn walk_within(place: &Path, prefix: &str, with_written: bool, left: &mut usize, found: &mut Below) {
    for name in names(place) {
        if *left == 0 {
            return;
        }
        *left -= 1;
        let path = if prefix.is_empty() { name.clone() } else { format!("{prefix}/{name}") };
        let inner = place.join(&name);
        if inner.is_file() {
            found.files.push(path);
        } else if path.matches('/').count() < DEPTH && inner.is_dir() && (with_written || name != OUT) {
            found.folders.push(path.clone());
            walk_within(&inner, &path, with_written, left, found);
        }
    }
}

/// The names in a folder, sorted; hidden ones left out.
pub fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let mut names: Vec<String> = names.filter(|name| !name.starts_with('.')).collect();
    names.sort();
    names
}
