//! Typed: the files that a typed folder stands for.
#![expect(clippy::disallowed_methods, reason = "a typed name may be a file or a folder; the disk knows")]

use crate::assets::{Shelf as _, nearest};
use crate::disk::walk;
use crate::disk::{Disk, Seen};
use crate::source::Tree;
use crate::targets::target::{CATALOGUE, COVER, Refusal};
use std::path::{Path, PathBuf};

/// A folder stands for its `cover.kdl` or `catalogue.kdl`, or, if it has neither, for all of those below it.
pub fn files(typed: &Path, seen: &mut Seen) -> Result<Vec<PathBuf>, Refusal> {
    if !typed.is_dir() {
        return Ok(vec![typed.to_owned()]);
    }
    for name in [COVER, CATALOGUE] {
        if typed.join(name).is_file() {
            return Ok(vec![typed.join(name)]);
        }
    }
    let disk = Disk::new(typed);
    let all = disk.covers("");
    seen.0.extend(disk.seen().0);
    let found: Vec<PathBuf> = all
        .iter()
        .filter(|path| matches!(path.rsplit('/').next(), Some(COVER | CATALOGUE)))
        .map(|path| if typed == Path::new(".") { PathBuf::from(path) } else { typed.join(path) })
        .collect();
    if found.is_empty() {
        let near = nearest(COVER, walk(typed).iter().map(String::as_str));
        let near = near.map_or_else(String::new, |near| format!("; did you mean {}?", typed.join(near).display()));
        return Err((
            format!("{} holds no {COVER}{near}", typed.display()),
            "name the cover file, or a folder that holds one; `jaconet new DIR` writes one to start from".to_owned(),
        ));
    }
    Ok(found)
}

/// A cover states its page count; a file that does not may be a series.
pub fn states_pages(tree: &Tree) -> bool {
    let books = tree.nodes.iter().filter(|node| node.name.value == "book");
    books.flat_map(|book| &book.children).any(|word| word.name.value == "pages")
}
