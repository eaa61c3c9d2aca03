//! House: the files of the house, and what their code says apart from comments, strings and tests.
#![expect(clippy::disallowed_methods, reason = "it reads the house")]

use std::collections::BTreeSet;
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

/// What is built into the program: nothing of a file of tests, and of others what stands before their tests.
pub fn code_of(path: &str, text: &str) -> String {
    let name = path.rsplit('/').next().unwrap_or_default();
    let tests = path.contains("/tests/")
        || name.contains("tests")
        || matches!(name, "testing.rs" | "trial.rs")
        || name.contains("laws");
    if tests {
        return String::new();
    }
    let end = text.find("#[cfg(test)]\nmod tests {").unwrap_or(text.len());
    text[..end].to_owned()
}

/// Without comments, and with the insides of strings on one line taken out.
pub fn bare(code: &str) -> String {
    let line = |line: &str| {
        let line = line.split_once("//").map_or(line, |(before, _)| before);
        let outside = line.split('"').step_by(2).collect::<Vec<_>>();
        outside.join("\"\"") + "\n"
    };
    code.lines().map(line).collect()
}

/// The rooms that a file names by `crate::room`.
pub fn rooms_used(code: &str) -> BTreeSet<String> {
    let code = bare(code);
    let names = code.split("crate::").skip(1);
    let name = |rest: &str| rest.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect();
    names.map(name).filter(|name: &String| !name.is_empty()).collect()
}
