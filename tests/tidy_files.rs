//! Tidy files: the layout of `jaconet tidy`, on every KDL text of the house, and at the command line.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use jaconet::testing::{language, rules, tidied_text};
use kdl::KdlDocument;
use lots::{rounds, try_law};
use std::cell::Cell;
use std::path::{Path, PathBuf};
use std::process::Command;

#[path = "kit/blocks.rs"]
#[expect(dead_code, reason = "the blocks alone are asked for")]
mod blocks;
#[path = "kit/chance.rs"]
#[expect(dead_code, reason = "only its lot is drawn here")]
mod chance;
#[path = "kit/files.rs"]
mod files;
#[path = "kit/lots.rs"]
mod lots;
#[path = "kit/mutate.rs"]
#[expect(dead_code, reason = "only one of its two hands is needed")]
mod mutate;

/// Covers, examples, starters, and the blocks of the manual.
fn texts() -> Vec<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let paths = files::below(root, &["examples", "tests/covers", "src"], &["kdl"]);
    let mut texts: Vec<String> =
        paths.iter().map(|path| std::fs::read_to_string(path).expect("a file can be read")).collect();
    let pages = language().into_iter().map(|(_, _, page)| page).chain(rules().into_iter().map(|(_, page)| page));
    texts.extend(pages.flat_map(|page| blocks::kdl(&page)));
    assert!(texts.len() > 150, "{}", texts.len());
    texts
}

/// The parser's own document without its formatting: a second reading of what a text says.
fn document(text: &str) -> KdlDocument {
    let mut document = KdlDocument::parse_v2(text).unwrap_or_else(|fault| panic!("{fault}\n{text}"));
    document.clear_format_recursive();
    document
}

/// Every letter that is no blank and parts nothing; comments among them.
fn letters(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace() && !matches!(letter, ';' | '\\')).collect()
}

fn holds(text: &str) -> bool {
    let Some(laid) = tidied_text(text) else { return false };
    assert_eq!(letters(text), letters(&laid), "{text}");
    assert_eq!(document(text).to_string(), document(&laid).to_string(), "{text}");
    assert_eq!(tidied_text(&laid).as_deref(), Some(&*laid), "the second time");
    true
}

#[test]
fn every_text_of_the_house_keeps_what_it_says() {
    let sound = texts().iter().filter(|text| holds(text)).count();
    assert!(sound > 150, "only {sound} are KDL");
}

#[test]
fn spoiled_texts_keep_what_they_say_or_are_refused() {
    let (texts, sound) = (texts(), Cell::new(0));
    try_law("tidy", rounds(600), |seed| {
        let mut chance = chance::Chance::new(seed);
        let mut text = chance.one(&texts).clone();
        for _ in 0..=chance.below(3) {
            if !text.is_empty() {
                text = mutate::spoil(&text, &mut chance);
            }
        }
        sound.set(sound.get() + usize::from(holds(&text)));
    });
    assert!(sound.get() > 100, "only {} are KDL", sound.get());
}

#[test]
fn the_examples_are_tidy() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let untidy: Vec<PathBuf> = files::below(root, &["examples", "src"], &["kdl"])
        .into_iter()
        .filter(|path| {
            let text = std::fs::read_to_string(path).expect("a file can be read");
            tidied_text(&text).as_deref() != Some(&*text)
        })
        .collect();
    assert!(untidy.is_empty(), "`jaconet tidy` lays out {untidy:?}");
}

/// Exit code, and what was said on both streams.
fn run(folder: &Path, words: &[&str]) -> (i32, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    let done = command.current_dir(folder).arg("tidy").args(words).env("NO_COLOR", "1").output().expect("it starts");
    let stated = String::from_utf8_lossy(&done.stdout).into_owned() + &String::from_utf8_lossy(&done.stderr);
    (done.status.code().expect("it ends by itself"), stated)
}

#[test]
fn the_command_tells_what_it_does() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let root = home.path();
    let put = |path: &str, bytes: &[u8]| {
        let path = root.join(path);
        std::fs::create_dir_all(path.parent().expect("lies in a folder")).expect("a folder");
        std::fs::write(path, bytes).expect("a file");
    };
    let got = |path: &str| std::fs::read(root.join(path)).expect("is there");
    put("good.kdl", b"bleed 3\n");
    put("deep/bad.kdl", b"bleed   3  // mm\r\n");
    put("out/old.kdl", b"bleed   3");
    let both = |words: &[&str], exit: i32, awaited: &[&str]| {
        let (code, stated) = run(root, words);
        assert!(awaited.iter().all(|words| stated.contains(words)), "{stated}");
        assert_eq!(code, exit, "{stated}");
        stated
    };
    let stated = both(&["--check"], 1, &["deep/bad.kdl: not tidy"]);
    assert!(!stated.contains("good") && !stated.contains("old"), "{stated}");
    assert_eq!(got("deep/bad.kdl"), b"bleed   3  // mm\r\n");
    both(&["."], 0, &["deep/bad.kdl: rewritten", "2 files, 1 of them rewritten"]);
    assert_eq!(got("deep/bad.kdl"), b"bleed 3  // mm\n");
    both(&["--check", "deep", "good.kdl"], 0, &["2 files"]);
    // Faults stay as they are, and do not hold up the others.
    put("bad.kdl", b"bleed 10pt");
    put("latin.kdl", b"title \"Caf\xe9\"");
    put("good.kdl", b"bleed   3");
    both(
        &["bad.kdl", "latin.kdl", "good.kdl"],
        1,
        &["`10pt` is not a number", "bad.kdl:1:7", "0xe9", "good.kdl: rewritten"],
    );
    assert_eq!((got("bad.kdl"), got("latin.kdl")), (b"bleed 10pt".to_vec(), b"title \"Caf\xe9\"".to_vec()));
    both(&["none.kdl"], 2, &["there is no such file"]);
    both(&["out/../deep/none"], 2, &["there is no such file"]);
    std::fs::create_dir(root.join("empty")).expect("a folder");
    both(&["empty"], 2, &["holds no .kdl file"]);
}
