//! Where lines of a text may end: by UAX #14, tailored to book setting. The one door to the line segmenter.

use crate::typeset::{
    hyphen::is_combining_mark,
    itemise::{CHOSEN_BREAK, ideograph},
};
use icu_segmenter::LineSegmenter;
use icu_segmenter::options::LineBreakOptions;
use std::ops::Range;

/// A chance as the text gives it.
#[derive(Clone, Debug)]
pub struct Opening {
    /// The words end here; blanks lie between this and `next`.
    pub at: usize,
    pub next: usize,
    pub cost: f64,
    /// A hyphen stands or will stand at the line's end.
    pub hyphen: bool,
    /// The word that a hyphen must be added to.
    pub word: Option<Range<usize>>,
    /// Between ideographs.
    pub gap: bool,
    /// The author breaks here, or the paragraph ends.
    pub forced: bool,
}

/// Costs on the scale of badness. Hyphens: Knuth and Plass use 50; a ragged line rather stays short.
const HYPHEN: f64 = 50.0;
const RAGGED_HYPHEN: f64 = 150.0;
/// Names are parted unwillingly.
const NAME: f64 = 70.0;
const BEFORE_DASH: f64 = 150.0;
const AFTER_DASH: f64 = 20.0;
/// A one-letter word is better not left at a line's end; Czech, Polish and Slovak do not allow it.
const AFTER_LONE_LETTER: f64 = 25.0;
const NEVER_AFTER_LONE_LETTER: f64 = 250.0;

impl Opening {
    pub fn hyphen(at: usize, word: Range<usize>, ragged: bool, name: bool) -> Opening {
        let cost = if ragged { RAGGED_HYPHEN } else { HYPHEN } + if name { NAME } else { 0.0 };
        let (gap, forced) = (false, false);
        Opening { at, next: at, cost, hyphen: true, word: Some(word), gap, forced }
    }
}

/// All chances but those that hyphenation finds, from byte `start`; the last one is the end.
pub fn openings(text: &str, start: usize, language: &str, ragged: bool, found: &mut Vec<Opening>) {
    let segmenter = LineSegmenter::new_for_non_complex_scripts(LineBreakOptions::default());
    let lone = ["cs", "pl", "sk"].contains(&language.split('-').next().unwrap_or_default());
    for next in segmenter.segment_str(text) {
        if next <= start && next < text.len() {
            continue;
        }
        let kept = text[start.min(next)..next].trim_end_matches([' ', CHOSEN_BREAK]);
        let at = start.min(next) + kept.len();
        let chosen = text[..next].ends_with(CHOSEN_BREAK);
        let before = kept.chars().next_back();
        let after = text[next..].chars().next();
        let mut opening = Opening {
            at,
            next,
            cost: 0.0,
            hyphen: false,
            word: None,
            gap: false,
            forced: chosen || next == text.len(),
        };
        if !opening.forced {
            match (before, after) {
                (Some('…'), _) if at == next && leading_ellipsis(kept) => continue,
                (Some(before), Some('—')) if at == next && before != '—' => continue,
                (_, Some('–' | '—')) => opening.cost = BEFORE_DASH,
                (Some('\u{AD}'), _) => {
                    let word = word_around(text, at);
                    opening = Opening::hyphen(at, word, ragged, false);
                }
                (Some('-' | '\u{2010}'), _) if at == next => {
                    opening.hyphen = true;
                    opening.cost = HYPHEN;
                }
                (Some('–' | '—'), _) if at == next => opening.cost = AFTER_DASH,
                (Some(before), Some(after)) => opening.gap = at == next && (ideograph(before) || ideograph(after)),
                _ => {}
            }
            if at < next && lone_letter(kept) {
                opening.cost += if lone { NEVER_AFTER_LONE_LETTER } else { AFTER_LONE_LETTER };
            }
        }
        found.push(opening);
    }
    // A chosen break at the very end asks for no empty line.
    if found.len() > 1 && found[found.len() - 1].at <= found[found.len() - 2].next && found[found.len() - 2].forced {
        found.pop();
    }
}

/// `…` that begins a sentence stays with its word.
fn leading_ellipsis(kept: &str) -> bool {
    let before = kept.trim_end_matches('…').chars().next_back();
    before.is_none_or(|letter| !letter.is_alphanumeric() && !matches!(letter, '.' | ',' | '!' | '?' | '”' | '’' | ')'))
}

fn lone_letter(kept: &str) -> bool {
    let mut letters = kept.chars().rev();
    letters.next().is_some_and(char::is_alphabetic)
        && letters.next().is_none_or(|before| matches!(before, ' ' | '“' | '‘' | '('))
}

fn of_word(letter: char) -> bool {
    letter.is_alphabetic() || is_combining_mark(letter) || matches!(letter, '’' | '\'' | '\u{AD}' | '\u{2060}')
}

fn word_around(text: &str, at: usize) -> Range<usize> {
    let before = text[..at].trim_end_matches(of_word).len();
    let after = text[at..].len() - text[at..].trim_start_matches(of_word).len();
    before..at + after
}

/// The words that hyphenation may part: letters with their marks and inner apostrophes. Left out are words with a soft
/// hyphen (the author said where) or a U+2060 (the author said not), and parts of addresses.
pub fn words(text: &str, start: usize) -> impl Iterator<Item = Range<usize>> + '_ {
    let mut at = start;
    std::iter::from_fn(move || {
        loop {
            let from = at + text[at..].find(of_word)?;
            let word = word_around(text, from);
            let word = from..word.end;
            at = word.end;
            let letters = &text[word.clone()];
            let whole = letters.contains(['\u{AD}', '\u{2060}']);
            let joint = |letter: char| letter.is_numeric() || matches!(letter, '@' | '/' | '_' | '\\');
            let before = text[..word.start].chars().next_back();
            let mut rest = text[word.end..].chars();
            let after = rest.next();
            let address = before.is_some_and(joint)
                || after.is_some_and(joint)
                || (after == Some('.') && rest.next().is_some_and(char::is_alphanumeric));
            if whole || address {
                continue;
            }
            let inner = letters.trim_start_matches(['’', '\'']);
            let from = word.end - inner.len();
            let word = from..from + inner.trim_end_matches(['’', '\'']).len();
            if !word.is_empty() {
                return Some(word);
            }
        }
    })
}
