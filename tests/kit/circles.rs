//! Circles: the files of a room that need each other, found by the paths in their code.

use crate::paths::{Import, Named, Spoken, spoken};
use std::collections::{BTreeMap, BTreeSet};

/// Each circle as the files in it, sorted: `cover/facts.rs cover/format.rs`.
pub fn circles(sources: &BTreeMap<String, String>) -> Vec<String> {
    let house = ModuleTree::new(sources);
    let needs: BTreeMap<&str, BTreeSet<&str>> =
        house.files.iter().map(|(module, file)| (file.path, house.needs(module, file))).collect();
    let reach: BTreeMap<&str, BTreeSet<&str>> = needs.keys().map(|path| (*path, reached(path, &needs))).collect();
    let circle = |path: &str| -> BTreeSet<&str> {
        reach[path].iter().copied().filter(|other| reach[other].contains(path)).collect()
    };
    let found: BTreeSet<BTreeSet<&str>> = needs.keys().map(|path| circle(path)).filter(|all| !all.is_empty()).collect();
    found.into_iter().map(|files| files.into_iter().collect::<Vec<_>>().join(" ")).collect()
}

/// All files that one leads to; itself only when it stands in a circle.
fn reached<'a>(path: &'a str, needs: &BTreeMap<&'a str, BTreeSet<&'a str>>) -> BTreeSet<&'a str> {
    let mut seen = BTreeSet::new();
    let mut open = vec![path];
    while let Some(next) = open.pop() {
        open.extend(needs[next].iter().filter(|other| seen.insert(**other)));
    }
    seen
}

/// The path of a module or of a thing in it, from the room down: `check`, `rule`, `Report`.
type Parts = Vec<String>;

struct ModuleTree<'a> {
    files: BTreeMap<Parts, File<'a>>,
}

struct File<'a> {
    path: &'a str,
    spoken: Spoken,
}

/// More re-exports of re-exports than any door has.
const DEEPEST: usize = 8;

impl<'a> ModuleTree<'a> {
    fn new(sources: &'a BTreeMap<String, String>) -> ModuleTree<'a> {
        let in_rooms = sources.iter().filter(|(path, _)| path.contains('/'));
        let files = in_rooms.map(|(path, text)| (module(path), File { path, spoken: spoken(text) }));
        ModuleTree { files: files.collect() }
    }

    /// The other files of its room that a file's own code cannot do without.
    fn needs(&self, module: &Parts, file: &File<'a>) -> BTreeSet<&'a str> {
        let used = file.spoken.named.iter().filter(|named| match named.import {
            // A door that hands something on does not need it, unless its own code speaks of it too.
            Import::HandedOn => file.spoken.words.contains(named.name()),
            Import::Own | Import::No => true,
        });
        let targets = used.filter_map(|named| self.home(&self.absolute(&named.path, module, file)?, 0));
        let near = targets.filter(|target| target[0] == module[0] && *target != *module);
        near.map(|target| self.files[&target].path).collect()
    }

    /// A path as it counts from the top of the house; `None` when it leads out of it.
    fn absolute(&self, path: &[String], module: &Parts, file: &File<'a>) -> Option<Parts> {
        let (first, rest) = path.split_first()?;
        let below = |start: &[String], rest: &[String]| Some([start, rest].concat());
        match first.as_str() {
            "crate" => Some(rest.to_vec()),
            "self" => below(module, rest),
            "super" => below(module.split_last()?.1, rest),
            child if self.files.contains_key(&[module, &[child.to_owned()][..]].concat()) => below(module, path),
            name => {
                let import =
                    |named: &&Named| named.import != Import::No && named.name() == name && named.path[0] != name;
                let import = file.spoken.named.iter().find(import)?;
                below(&self.absolute(&import.path, module, file)?, rest)
            }
        }
    }

    /// The module in which the thing at the end of a path is at home, however many doors hand it on.
    fn home(&self, path: &[String], depth: usize) -> Option<Parts> {
        // A module alone is not used yet.
        if self.files.contains_key(path) {
            return None;
        }
        let known = (1..path.len()).rev().find(|end| self.files.contains_key(&path[..*end]))?;
        let (module, rest) = (path[..known].to_vec(), &path[known..]);
        let file = &self.files[&module];
        let handed = file.spoken.named.iter().find(|named| named.import != Import::No && named.name() == rest[0]);
        let onwards = handed.filter(|_| depth < DEEPEST).and_then(|named| {
            let next = [self.absolute(&named.path, &module, file)?, rest[1..].to_vec()].concat();
            self.home(&next, depth + 1)
        });
        onwards.or(Some(module))
    }
}

/// `check/series/mod.rs` is `check::series`, and `check/rule.rs` is `check::rule`.
fn module(path: &str) -> Parts {
    let path = path.trim_end_matches(".rs");
    path.strip_suffix("/mod").unwrap_or(path).split('/').map(str::to_owned).collect()
}
