//! How the binary reports: every command by the same formats, into its output or into a file, and never in silence when
//! words are lost.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

#[path = "kit/spoken.rs"]
mod spoken;

use serde_json::Value;
use spoken::jaconet;
use std::process::{Command, Stdio};

fn started() -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    assert_eq!(jaconet(home.path(), &["new", "book"]).0, 0);
    home
}

/// Commands that report, as they are typed, and what their object holds.
const COMMANDS: [(&[&str], &str); 7] = [
    (&["build", "book", "--only", "report"], "covers"),
    (&["check", "book"], "covers"),
    (&["measure", "book"], "covers"),
    (&["inputs", "book"], "covers"),
    (&["compare", "book", "book"], "comparisons"),
    (&["check", "book", "--try", "pages=256"], "comparisons"),
    (&["shelf", "book", "--ppi", "20"], "covers"),
];

#[test]
fn every_command_reports_one_json_object() {
    let home = started();
    for (words, holds) in COMMANDS {
        let (exit, out, error) = jaconet(home.path(), &[words, &["--report", "json"]].concat());
        let report: Value =
            serde_json::from_str(&out).unwrap_or_else(|fault| panic!("{words:?}: {fault}: {out}{error}"));
        assert_eq!((exit, report[holds].as_array().map(Vec::len)), (0, Some(1)), "{words:?}: {out}");
    }
}

#[test]
fn a_report_goes_into_a_file_and_people_read_their_lines() {
    let home = started();
    for (words, holds) in COMMANDS {
        let plain = jaconet(home.path(), words);
        let filed = jaconet(home.path(), &[words, &["--report", "json", "--report-file", "deep/report.json"]].concat());
        assert_eq!(plain, filed, "{words:?}");
        let report = std::fs::read(home.path().join("deep/report.json")).expect("is written");
        let report: Value = serde_json::from_slice(&report).expect("is JSON");
        assert_eq!(report[holds].as_array().map(Vec::len), Some(1), "{words:?}");
        std::fs::remove_file(home.path().join("deep/report.json")).expect("is there");
    }
    let (exit, out, _) = jaconet(home.path(), &["check", "book", "--report", "sarif", "--report-file", "found.sarif"]);
    assert_eq!((exit, out.as_str()), (0, "book/cover.kdl: no findings\n"));
    let log: Value =
        serde_json::from_slice(&std::fs::read(home.path().join("found.sarif")).expect("is written")).expect("is JSON");
    assert_eq!(log["version"], "2.1.0");
    let (exit, _, error) = jaconet(home.path(), &["check", "book", "--report", "json", "--report-file", "book"]);
    assert!(exit == 2 && error.contains("--report-file"), "{error}");
    let (exit, _, error) = jaconet(home.path(), &["check", "book", "--report-file", "x.json"]);
    assert!(exit == 2 && error.contains("--report <FORMAT>"), "{error}");
}

#[test]
fn older_names_lead_to_the_new_ones() {
    let home = started();
    for (words, reported) in [
        (&["measure", "book", "--json"][..], "--report json"),
        (&["build", "book", "--shard", "1/3"], "--share 1/3"),
        (&["build", "book", "--share", "3/1"], "part 3 of 1 does not exist"),
        (&["build", "book", "--share", "0/4"], "the first is 1/4"),
    ] {
        let (exit, out, error) = jaconet(home.path(), words);
        assert_eq!((exit, out.as_str()), (2, ""), "{words:?}");
        assert!(error.contains(reported), "{words:?}: {error}");
    }
}

/// `/dev/full` takes no byte (Linux, full(4)).
#[cfg(target_os = "linux")]
#[test]
fn words_that_cannot_be_written_end_with_two() {
    let home = started();
    for words in [&["--help"][..], &["explain"], &["build", "book"], &["check", "book", "--report", "json"]] {
        let full = std::fs::File::options().write(true).open("/dev/full").expect("Linux has it");
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.current_dir(home.path()).args(words).stdin(Stdio::null()).stdout(full);
        let output = command.output().expect("the binary runs");
        let error = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{words:?}: {error}");
        assert_eq!(error.matches("the output could not be written").count(), 1, "{words:?}: {error}");
    }
}
