//! Terminal: nothing that a file says steers the terminal that shows it, and documents of JSON stay sound.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::path::Path;
use std::process::Command;

const HEAD: &str = "book { title \"Salt\"; pages 320 }\nformat paperback { trim 129 198 }\n";

/// Exit code, what was said, and the error stream.
fn run(home: &Path, words: &[&str]) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    let done = command.current_dir(home).args(words).env("NO_COLOR", "1").output().expect("the binary starts");
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("it speaks UTF-8");
    (done.status.code().expect("it ends by itself, no signal"), text(&done.stdout), text(&done.stderr))
}

/// Controls and marks that turn the direction of writing, in names that messages and reports repeat.
#[test]
fn names_that_would_steer_the_terminal() {
    let text = format!(
        "{HEAD}panel front {{ band \"a\\u{{202e}}\\u{{1b}}[31m\\r\\u{{2066}}\" {{ swatch \"b\\u{{202e}}\" }} }}\n"
    );
    let home = tempfile::tempdir().expect("a temporary folder");
    for (name, text) in [
        ("cover.kdl", text.as_str()),
        ("t.csv", "title,pages\nSalt\u{202e},many\n"),
        ("catalogue.kdl", "catalogue { template \"cover.kdl\"; titles \"t.csv\" }"),
    ] {
        std::fs::write(home.path().join(name), text).expect("a file");
    }
    let steers = |letter: char| {
        letter.is_control() && letter != '\n' || matches!(letter, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    for words in [
        &["check", "cover.kdl"][..],
        &["check", "cover.kdl", "--report", "json"],
        &["check", "cover.kdl", "--report", "sarif"],
        &["check", "catalogue.kdl"],
        &["check", "catalogue.kdl", "--report", "json"],
        &["measure", "cover.kdl"],
    ] {
        let (code, out, stated) = run(home.path(), words);
        assert_eq!(code, 1, "{words:?}: {stated}");
        assert!(!stated.contains(steers) && !out.contains(steers), "{words:?}: {stated:?}\n{out:?}");
        if words.contains(&"--report") {
            let documents = serde_json::Deserializer::from_str(&out).into_iter::<serde_json::Value>();
            let documents: Result<Vec<_>, _> = documents.collect();
            assert!(documents.is_ok_and(|documents| !documents.is_empty()), "{words:?}: {out}");
        }
    }
}
