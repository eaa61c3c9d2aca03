//! Mistakes: what people who are new to it write, each beside the message that it gets, so that messages are read as text.
//!
//! `tests/mistakes/*.md` hold them by theme. A heading names the mistake; a block shows it, as in the manual: elements stand
//! on the front, sections take the place of those of a usual cover; a block of CSV is a table of titles. The block of text
//! behind it holds what is said: the place, the message, the way out. `BLESS=1` writes what is said now: read it as somebody
//! who has never seen the program.
#![expect(clippy::disallowed_methods, reason = "it reads and blesses the messages")]

use jaconet::testing::{CoverTester, TestedFinding, language, read_table};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

#[path = "kit/base.rs"]
mod base;
#[path = "kit/blocks.rs"]
#[expect(dead_code, reason = "what makes a block whole is asked for")]
mod blocks;

#[test]
fn every_mistake_gets_its_message() {
    let trial = CoverTester::default();
    let (mut stale, mut count) = (String::new(), 0);
    for path in pages() {
        let old = std::fs::read_to_string(&path).expect("a page of mistakes");
        let mut new = String::new();
        for (at, part) in old.split("\n## ").enumerate() {
            if at == 0 {
                new += part;
                continue;
            }
            count += 1;
            new += "\n## ";
            let (shown, _) = part.split_once("```text\n").unwrap_or((part, ""));
            let stated = reported(&trial, shown);
            new += &[shown.trim_end(), "\n\n```text\n", &stated, "```\n"].concat();
        }
        if new != old {
            if std::env::var_os("BLESS").is_some() {
                std::fs::write(&path, &new).expect("a page can be written");
            } else {
                stale += &[&*path.to_string_lossy(), ":\n", &difference(&old, &new)].concat();
            }
        }
    }
    assert!(stale.is_empty(), "{stale}\nread the messages, then `BLESS=1 cargo test --test mistakes`");
    assert!(count >= 60, "only {count} mistakes");
}

/// What holds of every message: it has a place and a way out, and calls nobody names.
#[test]
fn every_message_shows_a_way_out() {
    for path in pages() {
        let page = std::fs::read_to_string(&path).expect("a page of mistakes");
        for part in page.split("\n## ").skip(1) {
            let title = part.lines().next().unwrap_or_default();
            let (_, stated) = part.split_once("```text\n").unwrap_or_default();
            assert!(
                stated.starts_with("error") || stated.starts_with("warning") || stated.starts_with("note"),
                "{title}: {stated}"
            );
            let lines: Vec<&str> = stated.lines().take_while(|line| *line != "```").collect();
            for pair in lines.chunks(2) {
                assert!(pair[1].strip_prefix("    help: ").is_some_and(|help| help.len() > 3), "{title}: {pair:?}");
            }
        }
    }
}

fn pages() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/mistakes");
    let entries = std::fs::read_dir(folder).expect("the mistakes are there").flatten();
    let mut pages: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
    pages.sort();
    pages
}

fn reported(trial: &CoverTester, shown: &str) -> String {
    let block = |kind: &str| {
        let (_, rest) = shown.split_once(&format!("```{kind}\n"))?;
        Some(rest.split_once("```")?.0.to_owned())
    };
    if let Some(table) = block("csv") {
        return table_reported(&table);
    }
    let block = block("kdl").expect("a mistake is shown");
    let tops: BTreeSet<&str> =
        language().into_iter().filter(|(_, kind, _)| *kind != "element").map(|(name, ..)| name).collect();
    let whole = shown.contains("\nA whole file");
    let text =
        if whole { block } else { blocks::whole(base::BASE, &block, |word| word == "wrap" || tops.contains(word)) };
    let art = include_bytes!("covers/art/quarters.png").as_slice();
    let copy = include_bytes!("covers/art/blurb.md").as_slice();
    let tried = trial.build(&text, [("art/quarters.png", art), ("blurb.md", copy)]);
    let stated = tried.notes.iter().map(|note| {
        let place = pointed(&text, note).map_or_else(String::new, |place| format!(" at `{place}`"));
        format!("{}{place}: {}\n    help: {}\n", note.severity, note.message, note.help)
    });
    stated.collect()
}

fn table_reported(table: &str) -> String {
    let tabled = read_table("titles.csv", table);
    let stated = tabled.notes.iter().zip(&tabled.helps);
    let stated: Vec<String> = stated.map(|(message, help)| format!("error: {message}\n    help: {help}\n")).collect();
    stated.concat()
}

/// The letters that a finding points at.
fn pointed(text: &str, note: &TestedFinding) -> Option<String> {
    let line = text.lines().nth(note.line - 1)?;
    let stated: String = line.chars().skip(note.column - 1).take(note.columns).collect();
    (!stated.is_empty()).then_some(stated)
}

fn difference(old: &str, new: &str) -> String {
    let gone = old.lines().filter(|line| !new.lines().any(|other| other == *line)).map(|line| format!("- {line}\n"));
    let come = new.lines().filter(|line| !old.lines().any(|other| other == *line)).map(|line| format!("+ {line}\n"));
    gone.chain(come).collect()
}
