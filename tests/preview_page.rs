//! Preview page: the page in a real browser, on a cover that is edited and on the example's catalogue.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files and a browser")]

use std::path::Path;
use std::process::Command;

/// The page, the icon and the style sheet together: small enough to read, and to send at once.
const PAGE_BYTES: u64 = 80_000;

/// The script prints a line for every check; the checks are in `tests/preview/`.
#[test]
fn the_page_works_in_a_browser() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let home = tempfile::tempdir().expect("a temporary folder");
    std::fs::copy(root.join("tests/preview/cover.kdl"), home.path().join("cover.kdl")).expect("the cover is copied");
    let own = root.join(".venv/bin/python3");
    let python = if own.is_file() { own } else { "python3".into() };
    let mut command = Command::new(python);
    command.arg(root.join("tests/preview/all.py")).arg(env!("CARGO_BIN_EXE_jaconet")).arg(home.path());
    command
        .arg(root.join("examples/quarterbound/catalogue.kdl"))
        .env("NO_COLOR", "1")
        .env("PYTHONDONTWRITEBYTECODE", "1");
    let answer = command.output().expect("Python starts");
    let (said, faults) = (String::from_utf8_lossy(&answer.stdout), String::from_utf8_lossy(&answer.stderr));
    assert!(answer.status.success() && said.lines().count() >= 21, "{said}{faults}");
}

#[test]
fn the_page_is_small_and_asks_for_nothing_from_outside() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/preview/page");
    let files: Vec<_> =
        std::fs::read_dir(folder).expect("the page is there").flatten().map(|entry| entry.path()).collect();
    let sizes = files.iter().map(|path| path.metadata().expect("a file").len());
    assert!(sizes.sum::<u64>() < PAGE_BYTES, "the page is larger than {PAGE_BYTES} bytes");
    for path in files {
        let text = std::fs::read_to_string(&path).expect("it is a text").replace("http://www.w3.org/2000/svg", "");
        assert!(!text.contains("http:") && !text.contains("https:") && !text.contains(" style="), "{}", path.display());
    }
}
