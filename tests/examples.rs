//! Examples: every cover, edition and title of `examples/` passes the check without a finding.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::path::Path;
use std::process::{Command, Stdio};

/// The covers that stand alone, one with a front for screens; the quartet with an edition each of two books; the titles of the list.
const COVERS: [(&str, usize); 5] = [
    ("salt-and-lanterns", 2),
    ("the-quiet-instruments", 1),
    ("birzei-hapardes", 1),
    ("harbour-quartet", 6),
    ("quarterbound", 28),
];

#[test]
fn every_example_is_without_a_finding() {
    for (folder, count) in COVERS {
        let (exit, stated) = checked(&format!("examples/{folder}"));
        let clean = stated.lines().filter(|line| line.ends_with(": no findings")).count();
        let covers = stated.lines().filter(|line| !line.is_empty()).count();
        assert_eq!((exit, clean, covers), (Some(0), count, count), "{folder}: {stated}");
    }
}

/// A right-to-left title whose override is left out stands on the wrong side of its fold.
#[test]
fn a_finding_would_be_heard() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let from = root().join("examples/quarterbound");
    copy(&from, home.path());
    let table = home.path().join("titles.csv");
    let text = std::fs::read_to_string(&table).expect("the table can be read");
    assert!(text.contains("overrides/right-to-left.kdl"));
    std::fs::write(&table, text.replace("overrides/right-to-left.kdl", "")).expect("the table can be written");
    let (exit, stated) = checked(home.path().to_str().expect("its name is UTF-8"));
    let clean = stated.lines().filter(|line| line.ends_with(": no findings")).count();
    assert_eq!((exit, clean), (Some(1), 27), "{stated}");
}

fn checked(folder: &str) -> (Option<i32>, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(root()).args(["check", folder, "--no-store"]).stdin(Stdio::null());
    let output = command.output().expect("the binary runs");
    let words = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code(), words(&output.stdout) + &words(&output.stderr))
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).expect("makes a folder");
    for entry in std::fs::read_dir(from).expect("a folder can be read").flatten() {
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).expect("a file can be copied");
        }
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}
