//! Dependants: the covers that lie over a series file.

use crate::assets::{Shelf, tidy};
use crate::ground::Findings;
use crate::source::{Files, Tree, parse_file};
use crate::targets::sources::top_text;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// The covers below a series file's folder that are laid over it, over however many files between.
pub fn dependants(shelf: &dyn Shelf, series: &str) -> Vec<String> {
    let folder = series.rsplit_once('/').map_or("", |(folder, _)| folder);
    let below: BTreeMap<String, String> = shelf
        .covers(folder)
        .into_iter()
        .filter_map(|path| {
            let tree = read(shelf, &path)?;
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

/// One file as a tree, whatever is wrong in it.
pub fn read(shelf: &dyn Shelf, path: &str) -> Option<Tree> {
    let (files, findings) = (Files::default(), RefCell::new(Findings::default()));
    let bytes = shelf.read(path).ok()?;
    let (file, sound) = files.add_bytes(&findings, path, &bytes);
    sound.then(|| parse_file(&mut findings.borrow_mut(), file, &files.text(file).unwrap_or_default()))
}
