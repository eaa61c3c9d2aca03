//! The binary itself: what it says, what it writes, and how it ends.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn jaconet(folder: &Path, words: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(folder).args(words).env_remove("NO_COLOR").stdin(Stdio::null());
    command.output().expect("the binary runs")
}

fn stated(output: &Output) -> (i32, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("words are UTF-8");
    (output.status.code().expect("it ends by itself"), text(&output.stdout), text(&output.stderr))
}

fn home() -> tempfile::TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

/// A folder with the starter cover in `book/`.
fn started() -> tempfile::TempDir {
    let home = home();
    let (exit, out, error) = stated(&jaconet(home.path(), &["new", "book"]));
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    home
}

fn write(path: &Path, text: &str) {
    std::fs::write(path, text).expect("writes");
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).expect("is there")
}

/// Every file of a folder by name.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    entries
        .filter(|entry| entry.path().is_file())
        .map(|entry| {
            let bytes = std::fs::read(entry.path()).expect("is a file");
            (entry.file_name().to_string_lossy().into_owned(), bytes)
        })
        .collect()
}

fn swap(path: &Path, from: &str, to: &str) {
    let text = read(path);
    assert!(text.contains(from), "{from}");
    write(path, &text.replace(from, to));
}

#[test]
fn the_starter_builds_without_a_finding() {
    let home = started();
    let (exit, out, error) = stated(&jaconet(home.path(), &["build", "book"]));
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    let names: Vec<String> = files(&home.path().join("book/out")).into_keys().collect();
    let wanted = ["back.png", "flat.png", "front.png", "press.pdf", "proof.pdf", "report.json", "spine.png"];
    assert_eq!(names, wanted.map(|name| format!("book-{name}")));
    assert!(out.ends_with("book/cover.kdl: no findings\n"), "{out}");
    let again = stated(&jaconet(home.path(), &["new", "book"]));
    assert_eq!((again.0, again.1.as_str()), (2, ""));
    assert!(again.2.contains("is there already"), "{}", again.2);
}

#[test]
fn the_same_cover_gives_the_same_bytes_anywhere() {
    let (one, two) = (started(), started());
    let moved = two.path().join("elsewhere");
    std::fs::create_dir(&moved).expect("a folder");
    std::fs::rename(two.path().join("book"), moved.join("book")).expect("moves");
    assert_eq!(jaconet(one.path(), &["build", "book", "--jobs", "1"]).status.code(), Some(0));
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(moved.join("book")).args(["build", "cover.kdl"]);
    command.env("TZ", "Asia/Tokyo").env("LC_ALL", "de_DE.UTF-8").env("SOURCE_DATE_EPOCH", "1");
    assert_eq!(command.output().expect("runs").status.code(), Some(0));
    assert!(files(&one.path().join("book/out")) == files(&moved.join("book/out")));
    let report = read(&one.path().join("book/out/book-report.json"));
    assert!(!report.contains(&one.path().display().to_string()), "{report}");
}

#[test]
fn the_report_tells_what_anyone_can_check() {
    let home = started();
    jaconet(home.path(), &["build", "book"]);
    let out = home.path().join("book/out");
    let report: serde_json::Value = serde_json::from_str(&read(&out.join("book-report.json"))).expect("is JSON");
    let sheet = &report["sheet"];
    assert_eq!(sheet["panels"].as_array().map(Vec::len), Some(3), "{sheet}");
    let spine = &sheet["panels"][1];
    // 240 pages at 80 g/m² and bulk 1.5 cm³/g: 120 leaves of 0.12 mm, and twice the cover's 0.3 mm.
    assert_eq!(spine["width"].as_f64(), Some(15.0), "{sheet}");
    assert_eq!(sheet["trim"]["width"].as_f64(), Some(129.0 * 2.0 + 15.0));
    assert_eq!(report["inputs"][0]["file"], "blurb.md");
    for output in report["outputs"].as_array().expect("a list") {
        let bytes = std::fs::read(out.join(output["file"].as_str().expect("a name"))).expect("is there");
        assert_eq!(output["bytes"].as_u64(), Some(bytes.len() as u64));
        let digest = <sha2::Sha256 as sha2::Digest>::digest(&bytes);
        let digest: Vec<String> = digest.iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(output["sha256"], digest.concat());
    }
    assert!(report["fonts"].as_array().expect("a list").iter().any(|font| font["family"] == "EB Garamond"), "{report}");
}

#[test]
fn an_error_withdraws_the_press_file_and_keeps_the_pictures() {
    let home = started();
    let cover = home.path().join("book/cover.kdl");
    assert_eq!(jaconet(home.path(), &["build", "book"]).status.code(), Some(0));
    swap(&cover, "swatch night; left", "swatch nihgt; left");
    let (exit, out, error) = stated(&jaconet(home.path(), &["build", "book"]));
    assert_eq!(exit, 1, "{out}");
    assert!(error.contains("nihgt") && error.contains("did you mean `night`"), "{error}");
    assert!(error.contains("cover.kdl:33:26"), "{error}");
    assert!(out.contains("taken away") && out.ends_with("book/cover.kdl: 1 error\n"), "{out}");
    let written = files(&home.path().join("book/out"));
    assert!(written.contains_key("book-flat.png") && !written.contains_key("book-press.pdf"));
    swap(&cover, "nihgt", "night");
    assert_eq!(jaconet(home.path(), &["build", "book"]).status.code(), Some(0));
    assert!(files(&home.path().join("book/out")).contains_key("book-press.pdf"));
    // A file that is no KDL at all has one finding, and its press file goes too.
    swap(&cover, "bleed 3", "bleed 3mm");
    let (exit, out, error) = stated(&jaconet(home.path(), &["build", "book", "--only", "report"]));
    assert_eq!((exit, out.contains("1 error\n")), (1, true), "{error}");
    assert!(!files(&home.path().join("book/out")).contains_key("book-press.pdf"));
}

#[test]
fn only_what_is_ordered_is_written() {
    let home = started();
    let words = ["build", "book/cover.kdl", "--only", "press,report", "--surround", "trim", "--out", "plates/deep"];
    assert_eq!(jaconet(home.path(), &words).status.code(), Some(0));
    let written = files(&home.path().join("plates/deep"));
    assert_eq!(written.keys().collect::<Vec<_>>(), ["book-press.pdf", "book-report.json"]);
    assert_eq!(jaconet(home.path(), &["build", "book", "--only", "press", "--out", "marks"]).status.code(), Some(0));
    assert_ne!(written["book-press.pdf"], files(&home.path().join("marks"))["book-press.pdf"]);
    let (exit, _, error) = stated(&jaconet(home.path(), &["build", "book", "--only", "prss"]));
    assert_eq!((exit, error.contains("press")), (2, true), "{error}");
}

#[test]
fn check_writes_nothing_and_speaks_to_programs() {
    let home = started();
    swap(&home.path().join("book/cover.kdl"), "pages 240", "pages \"many\"");
    let (exit, out, error) = stated(&jaconet(home.path(), &["check", "book", "--report", "json"]));
    assert_eq!((exit, error.as_str()), (1, ""));
    let reported: serde_json::Value = serde_json::from_str(&out).expect("is JSON");
    let cover = &reported["covers"][0];
    let finding = &cover["findings"][0];
    assert_eq!((cover["cover"].as_str(), finding["severity"].as_str()), (Some("book/cover.kdl"), Some("error")));
    assert_eq!((finding["line"].as_u64(), finding["column"].as_u64()), (Some(7), Some(11)), "{finding}");
    assert!(!home.path().join("book/out").exists());
    let (exit, out, error) = stated(&jaconet(home.path(), &["check", "book"]));
    assert_eq!(exit, 1);
    assert!(error.contains("cover.kdl:7:11") && out.ends_with("error\n"), "{error}{out}");
    assert!(!error.contains('\u{1b}'), "a pipe gets no colours");
}

#[test]
fn many_covers_are_reported_in_order_and_the_worst_exit_counts() {
    let home = home();
    let names: Vec<String> = (0..6).map(|number| format!("book-{number}")).collect();
    for name in &names {
        jaconet(home.path(), &["new", name]);
    }
    swap(&home.path().join("book-2/cover.kdl"), "pages 240", "pages 240pp");
    let run = |jobs: &str, more: &[&str]| {
        let mut words = vec!["check", "--jobs", jobs];
        words.extend(names.iter().map(String::as_str));
        words.extend(more);
        stated(&jaconet(home.path(), &words))
    };
    let (exit, out, error) = run("1", &[]);
    assert_eq!(exit, 1, "{error}");
    let order: Vec<&str> = out.lines().filter_map(|line| line.split('/').next()).collect();
    assert_eq!(order, names);
    assert_eq!(run("4", &[]), (exit, out.clone(), error));
    let (exit, with_missing, error) = run("4", &["absent.kdl"]);
    assert_eq!((exit, with_missing), (2, out), "one that is missing stops none of the others");
    assert!(error.contains("absent.kdl: there is no such file"), "{error}");
}

#[test]
fn an_output_that_takes_no_more_is_no_success() {
    let home = started();
    for words in [&["measure", "book"][..], &["check", "book"], &["explain"], &["explain", "band"], &["--help"]] {
        // A device that has no room, whatever is written (full(4), Linux manual).
        let full = std::fs::OpenOptions::new().write(true).open("/dev/full").expect("the system has it");
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        let child = command.current_dir(home.path()).args(words).stdout(full).output().expect("the binary starts");
        let error = String::from_utf8_lossy(&child.stderr);
        assert_eq!(child.status.code(), Some(2), "{words:?}: {error}");
        assert!(error.contains("the output could not be written"), "{words:?}: {error}");
    }
}

#[test]
fn measures_look_at_nothing_but_what_is_measured() {
    let home = home();
    let cover = "book { title \"A\"; pages 320 }\nformat paperback { trim 129 198 }\n\
        panel front {\n    image a file=\"missing.png\" { left trim; top trim; width 9 }\n}\n";
    std::fs::write(home.path().join("cover.kdl"), cover).expect("a file");
    let (exit, out, error) = stated(&jaconet(home.path(), &["measure"]));
    assert_eq!((exit, error.as_str()), (0, ""));
    assert!(out.contains("spine turn"), "{out}");
    std::fs::write(home.path().join("cover.kdl"), cover.replace("129 198", "129")).expect("a file");
    assert_eq!(stated(&jaconet(home.path(), &["measure"])).0, 1);
}

#[test]
fn measures_come_with_their_sums() {
    let home = started();
    let (exit, out, error) = stated(&jaconet(home.path(), &["measure", "book"]));
    assert_eq!((exit, error.as_str()), (0, ""));
    let line = out.lines().find(|line| line.starts_with("spine ")).unwrap_or_default();
    assert!(line.contains("15 mm"), "{out}");
    let (exit, out, _) = stated(&jaconet(home.path(), &["measure", "book", "--report", "json"]));
    let reported: serde_json::Value = serde_json::from_str(&out).expect("is JSON");
    let spine = reported["covers"][0]["measures"]
        .as_array()
        .expect("a list")
        .iter()
        .find(|measure| measure["name"] == "spine")
        .expect("a spine");
    assert_eq!((exit, spine["value"].as_f64(), spine["unit"].as_str()), (0, Some(15.0), Some("mm")));
}

#[test]
fn the_manual_knows_its_words_and_offers_the_nearest() {
    let home = home();
    let (exit, out, _) = stated(&jaconet(home.path(), &["explain", "band"]));
    assert_eq!((exit, out.starts_with("band (word)")), (0, true), "{out}");
    let (exit, out, error) = stated(&jaconet(home.path(), &["explain", "swatchs"]));
    assert_eq!((exit, out.as_str()), (2, ""));
    assert!(error.contains("did you mean `swatches`"), "{error}");
    assert!(stated(&jaconet(home.path(), &["explain", "wrap"])).1.starts_with("panel (word)"));
    assert!(stated(&jaconet(home.path(), &["explain", "swatch"])).1.contains("swatches (word)"));
    let (exit, _, error) = stated(&jaconet(home.path(), &["explain", "chosen"]));
    assert_eq!((exit, error.contains("in the pages of") && error.contains("type")), (2, true), "{error}");
    let (exit, list, _) = stated(&jaconet(home.path(), &["explain"]));
    assert_eq!((exit, list.contains("\n  band ") && list.contains("\n  exit-codes ")), (0, true), "{list}");
}

#[test]
fn what_cannot_run_ends_with_two() {
    let home = started();
    let stopped = |words: &[&str], reported: &str| {
        let (exit, out, error) = stated(&jaconet(home.path(), words));
        assert_eq!((exit, out.as_str()), (2, ""), "{words:?}: {error}");
        assert!(error.contains(reported), "{words:?}: {error}");
        assert!(!error.contains("panicked"), "{error}");
    };
    std::fs::create_dir(home.path().join("empty")).expect("a folder");
    stopped(&["build", "empty"], "empty holds no cover.kdl");
    write(&home.path().join("empty/covr.kdl"), "");
    stopped(&["build", "empty"], "did you mean empty/covr.kdl?");
    stopped(&["bulid", "book"], "build");
    stopped(&["check", "book/covr.kdl"], "did you mean book/cover.kdl?");
    stopped(&["check", "/dev/null"], "not a plain file");
    write(&home.path().join("taken"), "a file");
    stopped(&["new", "taken"], "a file stands where a folder should");
    let (exit, _, error) = stated(&jaconet(home.path(), &["build", "book", "--out", "taken/in", "--only", "report"]));
    assert_eq!((exit, error.contains("a file stands where a folder should")), (2, true), "{error}");
    assert_eq!(stated(&jaconet(home.path(), &["--version"])).1, concat!("jaconet ", env!("CARGO_PKG_VERSION"), "\n"));
}

#[test]
fn a_reader_who_leaves_is_no_fault() {
    let home = home();
    let mut child = Command::new(env!("CARGO_BIN_EXE_jaconet"))
        .current_dir(home.path())
        .args(["explain", "kdl"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the binary runs");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("ends");
    assert_eq!(stated(&output), (0, String::new(), String::new()));
}
