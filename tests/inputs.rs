//! Inputs: the list of files that covers read, read by `sha256sum` (GNU coreutils).
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::path::Path;
use std::process::{Command, Output, Stdio};

const BOOK: &str = "book { title \"T\"; pages 100 }\nformat paperback { trim 120 180 }\n";
const TYPE: &str = "swatches { swatch text k=100 }\ntype { style s { font \"EB Garamond\"; size 11; swatch text } }\n";
/// Text that is read from beside the cover.
const TOLD: &str = "panel back { text blurb copy=\"blurb.md\" style=s { left safe; right safe; top safe } }\n";

fn jaconet(folder: &Path, words: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(folder).arg("inputs").args(words).env("JACONET_STORE", "").stdin(Stdio::null());
    command.output().expect("the binary runs")
}

fn stated(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("words are UTF-8");
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

fn put(path: &Path, text: &str) {
    std::fs::create_dir_all(path.parent().expect("it lies in a folder")).expect("a folder");
    std::fs::write(path, text).expect("writes");
}

/// Two covers over a series over another, one with a font and a missing picture, and a catalogue of two titles.
fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    let root = home.path();
    put(&root.join("house.kdl"), TYPE);
    put(&root.join("sea/series.kdl"), "series \"../house.kdl\"\n");
    for name in ["one", "two"] {
        put(&root.join(format!("sea/{name}/cover.kdl")), &format!("series \"../series.kdl\"\n{BOOK}{TOLD}"));
        put(&root.join(format!("sea/{name}/blurb.md")), &format!("The blurb of {name}."));
    }
    put(&root.join("list/catalogue.kdl"), "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n");
    let copy = TOLD.replace("blurb.md", "{blurb}");
    put(&root.join("list/template.kdl"), &format!("format paperback {{ trim 120 180 }}\n{TYPE}{copy}"));
    put(&root.join("list/titles.csv"), "title,pages,blurb,overrides\nA,100,a.md,a.kdl\nB,100,b.md,\n");
    for name in ["a.md", "b.md", "unread.md"] {
        put(&root.join("list").join(name), name);
    }
    put(&root.join("list/a.kdl"), "format { bleed 4 }\n");
    home
}

/// Whether `sha256sum --check` accepts a list.
fn is_accepted(folder: &Path, list: &str) -> bool {
    std::fs::write(folder.join("list.sha256"), list).expect("writes");
    let mut command = Command::new("sha256sum");
    let output = command.current_dir(folder).args(["--check", "--strict", "list.sha256"]).output();
    output.expect("`sha256sum` runs").status.success()
}

fn names(list: &str) -> Vec<&str> {
    list.lines().filter_map(|line| line.split_once("  ")).map(|(_, name)| name).collect()
}

#[test]
fn every_file_is_listed_once_and_any_program_agrees() {
    let home = home();
    let (exit, list, error) = stated(&jaconet(home.path(), &["."]));
    assert_eq!((exit, error.as_str()), (Some(0), ""), "{list}");
    let wanted = [
        "house.kdl",
        "list/a.kdl",
        "list/a.md",
        "list/b.md",
        "list/catalogue.kdl",
        "list/template.kdl",
        "list/titles.csv",
        "sea/one/blurb.md",
        "sea/one/cover.kdl",
        "sea/series.kdl",
        "sea/two/blurb.md",
        "sea/two/cover.kdl",
    ];
    assert_eq!(names(&list), wanted);
    assert!(is_accepted(home.path(), &list), "{list}");
    assert!(!home.path().join("sea/one/out").exists() && !home.path().join("list/out").exists());
    put(&home.path().join("sea/two/blurb.md"), "Another.");
    assert!(!is_accepted(home.path(), &list), "a list that holds whatever changes");
}

#[test]
fn paths_count_from_where_the_command_was_typed() {
    let home = home();
    let book = home.path().join("sea/one");
    let (_, list, _) = stated(&jaconet(&book, &[]));
    assert_eq!(names(&list), ["../../house.kdl", "../series.kdl", "blurb.md", "cover.kdl"]);
    assert!(is_accepted(&book, &list), "{list}");
    let absolute = home.path().join("list");
    let (_, list, _) = stated(&jaconet(home.path(), &[absolute.to_str().expect("is UTF-8"), "--title", "b"]));
    assert_eq!(names(&list), ["list/b.md", "list/catalogue.kdl", "list/template.kdl", "list/titles.csv"]);
}

#[cfg(unix)]
#[test]
fn names_that_would_break_a_line_are_escaped() {
    let home = home();
    let (from, to) = (home.path().join("sea"), home.path().join("a\nsea \\ of\u{1b}[1m"));
    std::fs::rename(&from, &to).expect("renames");
    let (exit, list, error) = stated(&jaconet(home.path(), &[to.to_str().expect("is UTF-8")]));
    assert_eq!((exit, list.lines().count()), (Some(0), 6), "{list}{error}");
    assert!(is_accepted(home.path(), &list), "{list}");
}

#[test]
fn what_is_missing_is_reported_to_programs() {
    let home = home();
    let cover = home.path().join("sea/one/cover.kdl");
    let image = "panel front { image key file=\"art/key.png\" { left 1; top 1; width 10; height 10 } }\n";
    put(&cover, &format!("series \"../series.kdl\"\n{BOOK}{TOLD}{image}"));
    std::fs::create_dir(home.path().join("sea/one/fonts")).expect("a folder");
    let fonts = concat!(env!("CARGO_MANIFEST_DIR"), "/fonts-open");
    let font = first_font(Path::new(fonts)).expect("there are fonts");
    std::fs::copy(font, home.path().join("sea/one/fonts/own.ttf")).expect("copies");
    let (exit, list, error) = stated(&jaconet(home.path(), &["sea/one"]));
    assert_eq!(exit, Some(1), "{error}");
    assert!(error.contains("sea/one/cover.kdl: 1 error"), "{error}");
    assert!(names(&list).contains(&"sea/one/fonts/own.ttf"), "{list}");
    let (exit, reported, _) = stated(&jaconet(home.path(), &["sea/series.kdl", "--report", "json"]));
    let reported: serde_json::Value = serde_json::from_str(&reported).expect("is JSON");
    let one = &reported["covers"][0];
    assert_eq!((exit, one["name"].as_str()), (Some(1), Some("sea/one/cover.kdl")), "{reported}");
    assert_eq!(one["missing"], serde_json::json!(["sea/one/art/key.png"]), "{reported}");
    assert_eq!(one["folders"], serde_json::json!(["fonts", "sea/fonts", "sea/one/fonts"]), "{reported}");
    assert!(one["inputs"].as_array().expect("a list").iter().any(|input| input["file"] == "house.kdl"), "{reported}");
    assert_eq!(reported["known-by"]["folders"], serde_json::json!(["sea"]), "{reported}");
    let (exit, list, error) = stated(&jaconet(home.path(), &["absent.kdl", "sea/two"]));
    assert_eq!((exit, names(&list).len()), (Some(2), 4), "{error}");
    put(&home.path().join("list/titles.csv"), "title,pages\n\"A,100\n");
    let (exit, list, error) = stated(&jaconet(home.path(), &["list"]));
    assert_eq!((exit, names(&list)), (Some(1), vec!["list/catalogue.kdl"]), "{error}");
}

fn first_font(folder: &Path) -> Option<std::path::PathBuf> {
    let mut open = vec![folder.to_owned()];
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(folder).ok()?.flatten() {
            let path = entry.path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|end| end == "ttf" || end == "otf") {
                return Some(path);
            }
        }
    }
    None
}
