//! Case: files, and what is typed among them. A folder under `tests/fuzz/cases/` keeps one: `case.json`, and the files.

use crate::root;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

pub struct Case {
    /// Of what it is made, and the seed.
    pub name: String,
    pub files: BTreeMap<String, Vec<u8>>,
    pub typed: Typed,
}

#[derive(Clone, Serialize, Deserialize)]
pub struct Typed {
    /// Words after the program's name, run after run.
    pub runs: Vec<Vec<String>>,
    /// After the first run the entries of the store are spoiled by this lot.
    pub spoiled: Option<u64>,
}

impl Case {
    pub fn new(name: String, files: BTreeMap<String, Vec<u8>>, runs: &[&[&str]]) -> Case {
        let words = |run: &&[&str]| run.iter().map(|word| (*word).to_owned()).collect();
        Case { name, files, typed: Typed { runs: runs.iter().map(words).collect(), spoiled: None } }
    }

    /// Lays the files out in a folder.
    pub fn lay(&self, home: &Path) {
        for (path, bytes) in &self.files {
            let path = home.join(path);
            std::fs::create_dir_all(path.parent().expect("it lies in a folder")).expect("a folder");
            std::fs::write(path, bytes).expect("a file");
        }
    }

    pub fn keep(&self) -> PathBuf {
        let place = folder().join(&self.name);
        self.lay(&place.join("files"));
        let typed = serde_json::to_string_pretty(&self.typed).expect("words and a number");
        std::fs::write(place.join("case.json"), typed + "\n").expect("a file");
        place
    }

    pub fn kept() -> Vec<Case> {
        let places = std::fs::read_dir(folder()).into_iter().flatten().flatten().map(|entry| entry.path());
        let mut places: Vec<PathBuf> = places.filter(|place| place.join("case.json").is_file()).collect();
        places.sort();
        places.iter().map(|place| read(place)).collect()
    }
}

fn read(place: &Path) -> Case {
    let typed = std::fs::read_to_string(place.join("case.json")).expect("a case says what is typed");
    let within = place.join("files");
    let files = all(&within).into_iter().map(|path| {
        let bytes = std::fs::read(&path).expect("a file can be read");
        (path.strip_prefix(&within).unwrap_or(&path).to_string_lossy().into_owned(), bytes)
    });
    Case {
        name: place.file_name().unwrap_or_default().to_string_lossy().into_owned(),
        files: files.collect(),
        typed: serde_json::from_str(&typed).expect("it is a case"),
    }
}

fn folder() -> PathBuf {
    root().join("tests/fuzz/cases")
}

/// Every file below a folder, sorted.
pub fn all(folder: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = Vec::new();
    for path in std::fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()) {
        if path.is_dir() { paths.extend(all(&path)) } else { paths.push(path) }
    }
    paths.sort();
    paths
}
