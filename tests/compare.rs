//! `jaconet compare` as it is typed: covers, folders, reports, revisions, and what is tried out.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::path::Path;
use std::process::{Command, Stdio};

fn jaconet(folder: &Path, words: &[&str]) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(folder).args(words).stdin(Stdio::null()).env("JACONET_STORE", folder.join("store"));
    let output = command.output().expect("the binary runs");
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("words are UTF-8");
    (output.status.code().expect("it ends by itself"), text(&output.stdout), text(&output.stderr))
}

/// A folder with the starter cover in `old/` and `new/`.
fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    for name in ["old", "new"] {
        assert_eq!(jaconet(home.path(), &["new", name]).0, 0);
    }
    home
}

fn swap(path: &Path, from: &str, to: &str) {
    let text = std::fs::read_to_string(path).expect("is there");
    assert!(text.contains(from), "{from}");
    std::fs::write(path, text.replace(from, to)).expect("writes");
}

#[test]
fn no_example_differs_from_itself() {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let store = tempfile::tempdir().expect("a temporary folder");
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    let shown = examples.display().to_string();
    command.current_dir(store.path()).args(["compare", &shown, &shown, "--report", "json"]).stdin(Stdio::null());
    let output = command.output().expect("the binary runs");
    let reported = String::from_utf8(output.stdout).expect("words are UTF-8");
    let reported: serde_json::Value = serde_json::from_str(&reported).expect("is JSON");
    let comparisons = reported["comparisons"].as_array().expect("a list");
    assert!(comparisons.len() >= 3, "{reported}");
    for one in comparisons {
        assert_eq!(one["old"], one["new"]);
        assert_eq!(one["changes"].as_array().map(Vec::len), Some(0), "{one}");
    }
}

#[test]
fn two_folders_are_reported_line_by_line() {
    let home = home();
    swap(&home.path().join("new/cover.kdl"), "pages 240", "pages 256");
    let (exit, out, error) = jaconet(home.path(), &["compare", "old", "new"]);
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    // 8 leaves of 0.12 mm: 80 g/m² × 1.5 cm³/g (ISO 534, from memory).
    assert!(out.contains("spine ") && out.contains("15.00 mm → 15.96 mm, 0.96 mm more"), "{out}");
    assert!(out.contains("everything moves 0.96 mm to the right with the spine"), "{out}");
    let (exit, out, _) = jaconet(home.path(), &["compare", "old/cover.kdl", "old"]);
    assert_eq!((exit, out.as_str()), (0, "old/cover.kdl → old/cover.kdl: nothing changed\n"));
    swap(&home.path().join("new/cover.kdl"), "pages 256", "pages 256 state=estimated");
    let (exit, out, _) = jaconet(home.path(), &["compare", "old", "new"]);
    assert_eq!(exit, 1, "{out}");
    assert!(out.contains("appears: error: the page count is an estimate"), "{out}");
}

#[test]
fn reports_are_designs_too_and_their_flats_are_looked_at() {
    let home = home();
    swap(&home.path().join("new/cover.kdl"), "pages 240", "pages 256");
    assert_eq!(jaconet(home.path(), &["build", "old", "new", "--only", "flat,report"]).0, 0);
    let covers = jaconet(home.path(), &["compare", "old", "new"]).1;
    let reports = jaconet(home.path(), &["compare", "old/out", "new/out", "--picture", "a.png"]).1;
    let body = |text: &str| text.lines().skip(1).map(str::to_owned).collect::<Vec<String>>();
    let (covers, mut reports) = (body(&covers), body(&reports));
    assert!(reports.pop().is_some_and(|line| line.starts_with("a.png: ")));
    assert_eq!(covers, reports);
    assert!(std::fs::read(home.path().join("a.png")).is_ok_and(|bytes| bytes.starts_with(b"\x89PNG")));
    let (_, out, _) = jaconet(home.path(), &["compare", "old/out", "old", "--picture", "same.png"]);
    assert!(out.contains(": nothing changed\n") && out.ends_with("same.png: 0 places framed\n"), "{out}");
    std::fs::remove_file(home.path().join("old/out/old-flat.png")).expect("removes");
    let (exit, _, error) = jaconet(home.path(), &["compare", "old/out", "new", "--picture", "b.png"]);
    assert!(exit == 0 && error.contains("STEM-flat.png") && !home.path().join("b.png").exists(), "{error}");
    std::fs::write(home.path().join("x-report.json"), "{}").expect("writes");
    let (exit, _, error) = jaconet(home.path(), &["compare", "x-report.json", "new"]);
    assert!(exit == 2 && error.contains("not a report of this version"), "{error}");
}

#[test]
fn covers_of_one_side_only_are_reported() {
    let home = home();
    let all = home.path().join("all");
    for (from, to) in [("old", "all/was/one"), ("new", "all/now/two")] {
        std::fs::create_dir_all(home.path().join(to).parent().expect("a folder")).expect("a folder");
        std::fs::rename(home.path().join(from), home.path().join(to)).expect("moves");
    }
    for folder in ["was/same", "now/same"] {
        assert_eq!(jaconet(&all, &["new", folder]).0, 0);
    }
    let (exit, out, error) = jaconet(&all, &["compare", "was", "now"]);
    assert_eq!((exit, error.as_str()), (0, ""));
    let reported: Vec<&str> = out.lines().collect();
    let wanted = [
        "now/two/cover.kdl: only among the new ones",
        "was/one/cover.kdl: only among the old ones",
        "3 covers: 2 changed, 1 unchanged",
    ];
    assert_eq!(reported, wanted);
    // Of several, each that differs has a picture of its own.
    let cover = all.join("now/same/cover.kdl");
    let text = std::fs::read_to_string(&cover).expect("a cover");
    std::fs::write(&cover, text.replace("pages 240", "pages 256")).expect("writes");
    let (exit, out, _) = jaconet(&all, &["compare", "was", "now", "--picture", "a.png"]);
    assert!(exit == 0 && out.contains("a-same.png: "), "{out}");
    assert!(all.join("a-same.png").is_file() && !all.join("a.png").exists());
}

fn git(folder: &Path, words: &[&str]) {
    let who = ["-c", "user.name=A. Author", "-c", "user.email=author@example.org"];
    let output = Command::new("git").current_dir(folder).args(who).args(words).output().expect("git runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
}

#[test]
fn the_old_design_may_lie_in_the_history() {
    let home = home();
    let cover = home.path().join("new/cover.kdl");
    git(home.path(), &["init", "-q"]);
    git(home.path(), &["add", "new"]);
    git(home.path(), &["commit", "-q", "-m", "A first design"]);
    swap(&home.path().join("new/blurb.md"), " ", " all ");
    swap(&cover, "pages 240", "pages 256");
    let (exit, out, error) = jaconet(home.path(), &["compare", "new", "--rev", "HEAD"]);
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    assert!(out.starts_with("new/cover.kdl at HEAD → new/cover.kdl: "), "{out}");
    assert!(out.contains("15.00 mm → 15.96 mm") && out.contains("words ") && out.contains(" all "), "{out}");
    let stopped = |words: &[&str], reported: &str| {
        let (exit, out, error) = jaconet(home.path(), words);
        assert_eq!((exit, out.as_str()), (2, ""), "{words:?}");
        assert!(error.contains(reported), "{words:?}: {error}");
    };
    stopped(&["compare", "new", "--rev", "nowhere"], "no revision `nowhere`");
    stopped(&["compare", "new", "--rev=--help"], "`--help` is not a revision");
    stopped(&["compare", "old", "--rev", "HEAD"], "old/cover.kdl is not in the revision `HEAD`");
    stopped(&["compare", "old", "new", "--rev", "HEAD"], "stands in for the old design");
    stopped(&["compare", "new"], "nothing to compare it with");
    let outside = tempfile::tempdir().expect("a temporary folder");
    assert_eq!(jaconet(outside.path(), &["new", "book"]).0, 0);
    let (exit, _, error) = jaconet(outside.path(), &["compare", "book", "--rev", "HEAD"]);
    assert!(exit == 2 && error.contains("no git repository"), "{error}");
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(home.path()).args(["compare", "new", "--rev", "HEAD"]).env("PATH", outside.path());
    let output = command.output().expect("the binary runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("there is no `git` here"));
}

#[test]
fn what_is_tried_changes_no_file() {
    let home = home();
    let try_out = |words: &[&str]| jaconet(home.path(), &[&["check", "new"], words].concat());
    let (exit, out, error) = try_out(&["--try", "pages=256"]);
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    assert!(out.starts_with("new/cover.kdl → with pages=256: ") && out.contains("15.00 mm → 15.96 mm"), "{out}");
    // 120 leaves of 90 × 1.5 / 1000 mm and twice 0.3: the bulk stays as the cover says.
    let (_, out, _) = try_out(&["--try", "paper.grammage=90"]);
    assert!(out.contains("15.00 mm → 16.80 mm, 1.80 mm more"), "{out}");
    // The paper gives the same 15 mm as before: that is no change, and nothing is said of it.
    let (_, out, _) = try_out(&["--try", "spine=15.5"]);
    assert!(out.contains("15.00 mm → 15.50 mm, 0.50 mm more") && !out.contains("computed"), "{out}");
    let (_, out, _) = try_out(&["--try", "trim=135 216", "--report", "json"]);
    let reported: serde_json::Value = serde_json::from_str(&out).expect("is JSON");
    let flat = reported["comparisons"][0]["changes"]
        .as_array()
        .expect("a list")
        .iter()
        .find(|change| change["place"] == "flat height");
    assert_eq!(flat.map(|change| &change["now"]), Some(&serde_json::json!("216.00 mm")));
    // 12 leaves of 0.12 and twice 0.3 are 2.04 mm, and words need 4 (common practice).
    let (exit, out, _) = try_out(&["--try", "pages=24"]);
    assert!(exit == 1 && out.contains("spine-too-thin") && out.contains("appears: error"), "{out}");
    let (exit, _, error) = try_out(&["--try", "page=24"]);
    assert!(exit == 2 && error.contains("did you mean `pages`?"), "{error}");
    let (exit, out, _) = jaconet(home.path(), &["build", "new", "--try", "title=Other"]);
    assert!(exit == 0 && out.ends_with("nothing is written: facts were tried only\n"), "{out}");
    assert!(!home.path().join("new/out").exists());
}
