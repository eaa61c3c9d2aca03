//! Evidence from outside: files of Unicode, and files that borrowed crates are published with.
#![expect(clippy::disallowed_methods, reason = "tests alone read them")]

use std::path::Path;
use std::process::Command;

/// A file of Debian's package `unicode-data`, which `tests/run` installs.
pub fn unicode(name: &str) -> String {
    let path = format!("/usr/share/unicode/{name}");
    std::fs::read_to_string(&path).unwrap_or_else(|fault| panic!("{path}: {fault}; `tests/run` installs unicode-data"))
}

/// A file of a borrowed crate, as it was published.
pub fn package_file(package: &str, file: &str) -> String {
    let cargo = |words: &[&str]| Command::new(env!("CARGO")).args(words).output().expect("cargo runs").stdout;
    let about = String::from_utf8(cargo(&["-vV"])).expect("words");
    let host = about.lines().find_map(|line| line.strip_prefix("host: ")).expect("cargo names its machine");
    let manifest = concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml");
    let words = ["--offline", "--locked", "--format-version=1", "--filter-platform", host, "--manifest-path", manifest];
    let known = String::from_utf8(cargo(&[&["metadata"], &words[..]].concat())).expect("words");
    let manifests = known.split("\"manifest_path\":\"").filter_map(|rest| rest.split('"').next());
    let mut folders = manifests.filter_map(|manifest| Path::new(manifest).parent());
    // The name is followed by the version.
    let named = |folder: &&Path| {
        let name = folder.file_name().map(|name| name.to_string_lossy()).unwrap_or_default();
        let version = name.strip_prefix(package).and_then(|rest| rest.strip_prefix('-'));
        version.is_some_and(|version| version.starts_with(|digit: char| digit.is_ascii_digit()))
    };
    let folder = folders.find(named).expect("cargo says where the package is");
    std::fs::read_to_string(folder.join(file)).expect("it is published with the package")
}
