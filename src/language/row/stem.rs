//! Stem: what the files of a title are called.

use crate::ground::{Finding, Findings, Severity, Span, Spanned};
use crate::language::row::title::Title;
use crate::source::Row;
use crate::typeset::{composed, is_combining_mark};
use std::collections::BTreeMap;

/// Bytes; file systems take 255, and endings follow.
const LENGTH_LIMIT: usize = 100;

/// A title in small letters, everything but letters and digits a hyphen.
pub fn stem(title: &str) -> String {
    let mut out = String::new();
    for letter in title.chars().flat_map(char::to_lowercase) {
        if letter.is_alphanumeric() || is_combining_mark(letter) && !out.is_empty() && !out.ends_with('-') {
            out.push(letter);
        } else if !out.is_empty() && !out.ends_with('-') && !is_apostrophe(letter) {
            out.push('-');
        }
    }
    if out.len() > LENGTH_LIMIT {
        out.truncate(out.floor_char_boundary(LENGTH_LIMIT));
        // Whole words, where there are several.
        out.truncate(out.rfind('-').unwrap_or(out.len()));
    }
    out.truncate(out.trim_end_matches('-').len());
    out
}

/// `The King's Ferry` is `the-kings-ferry`.
fn is_apostrophe(letter: char) -> bool {
    matches!(letter, '\'' | '\u{2019}')
}

/// The stem that a row states, or one made of its title; never empty.
pub fn of_row(
    findings: &mut Findings,
    row: &Row,
    stated: Option<Spanned<String>>,
    title: Option<Spanned<String>>,
) -> Spanned<String> {
    let spare = |span: Span| Spanned::new(format!("row-{}", row.number), span);
    if let Some(stated) = stated {
        let Some(fault) = fault(&stated.value) else { return stated };
        let help = "a stem names files: letters, digits, - and _, and . within it";
        findings.error(stated.span, format!("{:?} is not a stem: {fault}", stated.value), help);
        return spare(stated.span);
    }
    let Some(title) = title else {
        let help = "give it a title, or a column `stem`: files are named by it";
        findings.error(row.span, format!("row {} has no title", row.number), help);
        return spare(row.span);
    };
    let made = stem(&title.value);
    if made.is_empty() {
        let message = format!("{:?} has no letter to name its files by", title.value);
        findings.error(title.span, message, "give the table a column `stem`");
        return spare(title.span);
    }
    Spanned::new(made, title.span)
}

fn fault(stem: &str) -> Option<String> {
    if stem.len() > LENGTH_LIMIT {
        return Some(format!("it has {} bytes, and {LENGTH_LIMIT} are the limit", stem.len()));
    }
    let may = |letter: char| letter.is_alphanumeric() || is_combining_mark(letter) || matches!(letter, '-' | '_' | '.');
    if let Some(letter) = stem.chars().find(|letter| !may(*letter)) {
        return Some(match letter {
            ' ' => "it has a blank".to_owned(),
            '/' | '\\' => format!("`{letter}` makes it a path"),
            _ => format!("`{letter}` cannot stand in it"),
        });
    }
    let outer = |letter: char| letter.is_alphanumeric() || letter == '_';
    if !stem.starts_with(outer) {
        return Some("it begins with neither letter nor digit".to_owned());
    }
    stem.ends_with('.').then(|| "it ends with a point".to_owned())
}

/// Titles whose files would lie over another's: each but the first, by its place among them. Neither capitals nor two
/// ways of writing one accent tell files apart on every system.
pub fn stems_twice(titles: &[Title]) -> Vec<(usize, Finding)> {
    let mut first: BTreeMap<String, &Title> = BTreeMap::new();
    let mut found = Vec::new();
    for (at, title) in titles.iter().enumerate() {
        let name = composed(&title.stem.value.to_lowercase());
        if let Some(other) = first.get(&name) {
            let message = format!("row {} has the stem `{}`, too", other.number, other.stem.value);
            let help = "two titles cannot share their files: tell them apart in a column `stem`";
            found.push((at, Finding::new(Severity::Error, "language", title.stem.span, message).help(help)));
        } else {
            first.insert(name, title);
        }
    }
    found
}
