//! Sought: letters and words that a style sets apart, found in the copy.

use crate::typeset::{
    case::upper,
    clean::{CHOSEN_BREAK, clean},
    copy::{Paragraph, Phrase},
    style::{Case, SetApart, Style},
};
use std::ops::Range;

/// The words of a paragraph, capitals where the style sets them, cut where something is set apart.
pub fn parts<'p>(paragraph: &'p Paragraph, style: &Style, met: &mut Vec<usize>) -> Vec<(&'p Phrase, String, u16)> {
    let mut parts: Vec<(&Phrase, String, u16)> = Vec::new();
    for phrase in &paragraph.phrases {
        let begins = parts.iter().rev().find_map(|(_, words, _)| words.chars().next_back());
        let words = clean(&phrase.text, begins.is_none_or(|last| last == CHOSEN_BREAK));
        let words = if style.case == Case::Upper { upper(&words, &style.language) } else { words };
        if style.apart.is_empty() {
            parts.push((phrase, words, 0));
            continue;
        }
        let owners = owners(&words, style, met);
        let mut at = 0;
        for same in owners.chunk_by(|one, other| one == other) {
            parts.push((phrase, words[at..at + same.len()].to_owned(), same[0]));
            at += same.len();
        }
    }
    parts
}

/// Of each byte of some words, which of the style's letters and words it belongs to: 0 for none, else its number from 1.
/// `met` counts how often each has been met before.
fn owners(words: &str, style: &Style, met: &mut Vec<usize>) -> Vec<u16> {
    let mut owners = vec![0; words.len()];
    met.resize(style.apart.len(), 0);
    for (number, apart) in style.apart.iter().enumerate() {
        let sought = if style.case == Case::Upper { upper(&apart.words, &style.language) } else { apart.words.clone() };
        for found in places(words, &sought, apart.whole) {
            met[number] += 1;
            if apart.only.is_none_or(|only| only == met[number]) {
                owners[found].fill(number as u16 + 1);
            }
        }
    }
    owners
}

fn places<'a>(words: &'a str, sought: &'a str, whole: bool) -> impl Iterator<Item = Range<usize>> + 'a {
    let letter = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
    let all = words.match_indices(sought).map(move |(at, _)| at..at + sought.len());
    all.filter(move |found| {
        let (before, after) = (words[..found.start].chars().next_back(), words[found.end..].chars().next());
        !found.is_empty() && (!whole || !letter(before) && !letter(after))
    })
}

impl SetApart {
    /// Whether its letters are shaped by themselves.
    pub fn own_cut(&self) -> bool {
        (self.scale - 1.0).abs() > 1e-9 || !self.features.is_empty()
    }
}
