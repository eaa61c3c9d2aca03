//! Bytes: the same cover gives the same files, whatever folder, locale, time zone or number of threads.

use crate::kit::examples;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

#[test]
fn the_same_cover_gives_the_same_bytes_everywhere() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let source = &examples().iter().find(|built| built.stem == "the-quiet-instruments").expect("is there").source;
    let [one, two, three] = ["here", "there", "über/dort"].map(|place| home.path().join(place).join("cover"));
    for folder in [&one, &two, &three] {
        copy(source, folder);
    }
    // Two in one process, the second from the memory of the first.
    build(&[&one, &two], &[("LC_ALL", "C"), ("TZ", "UTC")], &["--jobs", "1"]);
    // And one in another process, elsewhere.
    build(&[&three], &[("LC_ALL", "de_DE.UTF-8"), ("TZ", "Pacific/Auckland")], &[]);
    let first = files(&one.join("out"));
    assert!(first.contains_key("cover-press.pdf") && first.contains_key("cover-report.json"), "{:?}", first.keys());
    assert_eq!(first.len(), 10, "{:?}", first.keys());
    for other in [&two, &three] {
        let second = files(&other.join("out"));
        assert!(first.keys().eq(second.keys()));
        for (name, bytes) in &first {
            assert!(*bytes == second[name], "{name} in {}", other.display());
        }
    }
}

fn build(folders: &[&Path], environment: &[(&str, &str)], words: &[&str]) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    let run = command.arg("build").args(folders).args(words).envs(environment.iter().copied()).output();
    let run = run.expect("the binary runs");
    assert_eq!(run.status.code(), Some(0), "{}", String::from_utf8_lossy(&run.stderr));
}

fn copy(from: &Path, to: &PathBuf) {
    std::fs::create_dir_all(to).expect("makes a folder");
    for entry in std::fs::read_dir(from).expect("is a folder").flatten() {
        let place = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &place);
        } else {
            std::fs::copy(entry.path(), place).expect("copies");
        }
    }
}

pub fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = std::fs::read_dir(folder).expect("was written").flatten();
    let named = entries.map(|entry| (entry.file_name().to_string_lossy().into_owned(), entry.path()));
    let files = named.filter(|(_, path)| path.is_file());
    files.map(|(name, path)| (name, std::fs::read(path).expect("is a file"))).collect()
}
