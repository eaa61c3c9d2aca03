//! Typed: the files that a typed folder stands for, and the covers that a series file does.
#![expect(clippy::disallowed_methods, reason = "a typed name may be a file or a folder; the disk knows")]

use crate::assets::{Shelf as _, nearest, tidy};
use crate::disk::walk;
use crate::disk::{Disk, Seen};
use crate::ground::Findings;
use crate::source::{Files, Tree, parse_file};
use crate::targets::sources::top_text;
use crate::targets::target::{CATALOGUE, COVER, Refusal};
use std::cell::RefCell;
use std::collections::BTreeMap;
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
    let all = disk.covers();
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

pub fn read(disk: &Disk, path: &str) -> Option<Tree> {
    let (files, findings) = (Files::default(), RefCell::new(Findings::default()));
    let bytes = disk.read(path).ok()?;
    let (file, sound) = files.add_bytes(&findings, path, &bytes);
    sound.then(|| parse_file(&mut findings.borrow_mut(), file, &files.text(file).unwrap_or_default()))
}

/// A cover states its page count; a file that does not may be a series.
pub fn states_pages(tree: &Tree) -> bool {
    let books = tree.nodes.iter().filter(|node| node.name.value == "book");
    books.flat_map(|book| &book.children).any(|word| word.name.value == "pages")
}

/// The covers below a series file's folder that are laid over it, over however many files between.
pub fn dependants(disk: &Disk, series: &str) -> Vec<String> {
    let below: BTreeMap<String, String> = disk
        .covers()
        .into_iter()
        .filter_map(|path| {
            let tree = read(disk, &path)?;
            // Its own file is the first and only one, so the path counts from it.
            let files = Files::default();
            files.add(&path, "");
            let under = tidy(&files.resolve(&top_text(&tree, "series")?));
            Some((path, under))
        })
        .collect();
    let lies_over = |path: &str| {
        let mut at = path;
        // A circle ends, too.
        for _ in 0..below.len() {
            match below.get(at) {
                Some(under) if under == series => return true,
                Some(under) => at = under,
                None => return false,
            }
        }
        false
    };
    let is_series = |path: &String| below.values().any(|under| under == path);
    below.keys().filter(|path| lies_over(path) && !is_series(path)).cloned().collect()
}
