//! Where lines of a text may end: by UAX #14, tailored to book setting. The one door to the line segmenter.

use crate::typeset::{clean::CHOSEN_BREAK, marks::is_combining_mark, script::ideograph, small_words, style::Style};
use icu_segmenter::LineSegmenter;
use icu_segmenter::options::LineBreakOptions;
use std::ops::Range;

/// A chance as the text gives it.
#[derive(Clone, Debug)]
pub struct Opportunity {
    /// The words end here.
    pub at: usize,
    /// The next line begins here: behind blanks, or before a hyphen that it writes again.
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
/// Names are split only if need be.
const NAME: f64 = 70.0;
const BEFORE_DASH: f64 = 150.0;
const AFTER_DASH: f64 = 20.0;
/// A one-letter word is better not left at a line's end; Czech, Polish and Slovak do not allow it.
const AFTER_LONE_LETTER: f64 = 25.0;
/// Worse than the loosest lines; a word out of the measure is worse still.
const NEVER: f64 = 1e7;

impl Opportunity {
    pub fn hyphen(at: usize, word: Range<usize>, ragged: bool, name: bool) -> Opportunity {
        let cost = if ragged { RAGGED_HYPHEN } else { HYPHEN } + if name { NAME } else { 0.0 };
        let (gap, forced) = (false, false);
        Opportunity { at, next: at, cost, hyphen: true, word: Some(word), gap, forced }
    }
}

/// All chances but those that hyphenation finds, from byte `start`; the last one is the end.
pub fn opportunities(text: &str, start: usize, style: &Style, found: &mut Vec<Opportunity>) {
    let (ragged, language) = (style.is_ragged(), primary(&style.language));
    let held = held(text, &style.hold);
    for next in breaks(text) {
        if next <= start && next < text.len() {
            continue;
        }
        let kept = text[start.min(next)..next].trim_end_matches([' ', CHOSEN_BREAK]);
        let at = start.min(next) + kept.len();
        let chosen = text[..next].ends_with(CHOSEN_BREAK);
        let before = kept.chars().next_back();
        let after = text[next..].chars().next();
        let mut opportunity = Opportunity {
            at,
            next,
            cost: 0.0,
            hyphen: false,
            word: None,
            gap: false,
            forced: chosen || next == text.len(),
        };
        if !opportunity.forced {
            match (before, after) {
                (Some('…'), _) if at == next && leading_ellipsis(kept) => continue,
                (Some(before), Some('—')) if at == next && before != '—' => continue,
                (Some('–' | '—'), _) if at == next && opens(kept) => continue,
                (Some(before), Some(_))
                    if at < next && (hangs_back(&text[next..]) || opens_guillemet(kept, before)) =>
                {
                    opportunity.cost = NEVER;
                }
                (_, Some('–' | '—')) => opportunity.cost = BEFORE_DASH,
                (Some('\u{AD}'), _) => {
                    let word = around(text, at, of_word);
                    opportunity = Opportunity::hyphen(at, word, ragged, false);
                }
                (Some(before), _) if at == next && is_hyphen(before) => {
                    if strands(kept, &text[next..]) {
                        continue;
                    }
                    opportunity.hyphen = true;
                    opportunity.cost = HYPHEN;
                    if repeats_hyphen(language) && joins_words(kept, &text[next..]) {
                        if is_address(&text[around(text, at, |letter| !letter.is_whitespace())]) {
                            opportunity.cost = NEVER;
                        } else {
                            opportunity.next = at - before.len_utf8();
                        }
                    }
                }
                (Some('–' | '—'), _) if at == next => opportunity.cost = AFTER_DASH,
                (Some(before), Some(after)) => {
                    let apart = ideograph(before) || ideograph(after) || is_unspaced(before) && is_unspaced(after);
                    opportunity.gap = at == next && apart;
                }
                _ => {}
            }
            if at < next {
                opportunity.cost += cling(kept, &text[next..], language, style.even);
            }
            if held.iter().any(|phrase| phrase.start < next && at < phrase.end) {
                opportunity.cost = NEVER;
            }
        }
        found.push(opportunity);
    }
    // A chosen break at the very end asks for no empty line.
    if found.len() > 1 && found[found.len() - 1].at <= found[found.len() - 2].next && found[found.len() - 2].forced {
        found.pop();
    }
}

/// Where lines may end by UAX #14, and between the words of scripts that set no blanks there: a dictionary knows them.
fn breaks(text: &str) -> Vec<usize> {
    let segmenter = LineSegmenter::new_17_for_non_complex_scripts(LineBreakOptions::default());
    let mut breaks: Vec<usize> = segmenter.segment_str(text).collect();
    let Some(mut at) = text.find(is_unspaced) else { return breaks };
    let words = LineSegmenter::new_dictionary(LineBreakOptions::default());
    while let Some(from) = text[at..].find(is_unspaced) {
        let start = at + from;
        at = start + text[start..].find(|letter| !is_unspaced(letter)).unwrap_or(text.len() - start);
        let inner = words.segment_str(&text[start..at]).map(|part| start + part);
        breaks.extend(inner.filter(|part| (start + 1..at).contains(part)));
    }
    breaks.sort_unstable();
    breaks.dedup();
    breaks
}

/// Thai, Lao, Burmese and Khmer.
pub fn is_unspaced(letter: char) -> bool {
    matches!(letter, '\u{E00}'..='\u{EFF}' | '\u{1000}'..='\u{109F}' | '\u{1780}'..='\u{17FF}')
}

/// `…` that begins a sentence stays with its word.
fn leading_ellipsis(kept: &str) -> bool {
    let before = kept.trim_end_matches('…').chars().next_back();
    before.is_none_or(|letter| {
        !letter.is_alphanumeric() && !matches!(letter, '.' | ',' | '!' | '?' | '”' | '’' | ')' | ']' | '}' | '»' | '›')
    })
}

/// A dash that begins what is said (the Spanish raya) stays with its word.
fn opens(kept: &str) -> bool {
    let before = kept.trim_end_matches(['–', '—']).chars().next_back();
    before
        .is_none_or(|letter| letter.is_whitespace() || matches!(letter, '(' | '[' | '“' | '‘' | '«' | '„' | '¿' | '¡'))
}

/// What a break costs between two words of which one belongs to the other.
fn cling(kept: &str, rest: &str, language: &str, title: bool) -> f64 {
    let outer = |letter: char| matches!(letter, '“' | '‘' | '(' | '„' | '«' | '[' | '¿' | '¡');
    let word = kept.rsplit(|letter: char| letter.is_whitespace()).next().unwrap_or_default();
    let word = word.trim_start_matches(outer);
    let follower = rest.split(|letter: char| letter.is_whitespace()).next().unwrap_or_default();
    if small_words::announces(word, follower, language) || small_words::ends_lone(word, language) {
        return NEVER;
    }
    if title && small_words::belongs(word, follower, language) {
        return NEVER;
    }
    let mut letters = word.chars();
    let lone = letters.next().is_some_and(char::is_alphabetic) && letters.next().is_none_or(|next| next == '.');
    if lone { AFTER_LONE_LETTER } else { 0.0 }
}

/// Signs that belong to the word before them although a blank stands between: spaced dashes and ellipses, and the high
/// signs of French. A dash or an ellipsis close to its next word begins what that says.
fn hangs_back(rest: &str) -> bool {
    let mut letters = rest.chars();
    let sign = letters.next();
    let alone = letters.next().is_none_or(|next| !next.is_alphanumeric());
    matches!(sign, Some(';' | ':' | '!' | '?' | '»' | '›' | '–' | '—' | '…')) && alone
}

/// An opening guillemet with a blank after it, as French has it.
fn opens_guillemet(kept: &str, last: char) -> bool {
    matches!(last, '«' | '‹') && kept.chars().nth_back(1).is_none_or(|before| !before.is_alphanumeric())
}

pub fn is_hyphen(letter: char) -> bool {
    matches!(letter, '-' | '\u{2010}')
}

/// A break at a hyphen of the word's own would leave a single letter before or after it.
fn strands(kept: &str, rest: &str) -> bool {
    let single = |mut letters: &mut dyn Iterator<Item = char>| {
        (&mut letters).next().is_some_and(char::is_alphabetic)
            && letters.next().is_none_or(|next| !next.is_alphanumeric())
    };
    single(&mut kept.chars().rev().skip(1)) || single(&mut rest.chars())
}

/// A hyphen at the end of `kept` stands between two words.
fn joins_words(kept: &str, rest: &str) -> bool {
    kept.chars().nth_back(1).is_some_and(char::is_alphabetic) && rest.starts_with(char::is_alphabetic)
}

/// Languages that write a word's own hyphen again on the next line: Portuguese by the Acordo Ortográfico de 1990, base XX, 6;
/// Czech as `Dělení slov` of the Czech Wikipedia has it (Brno-/-Líšeň); Polish, Slovak and Croatian from memory.
fn repeats_hyphen(language: &str) -> bool {
    ["cs", "hr", "pl", "pt", "sk"].contains(&language)
}

/// Where phrases stand that are to stay together.
fn held(text: &str, phrases: &[String]) -> Vec<Range<usize>> {
    let known = phrases.iter().filter(|phrase| !phrase.is_empty());
    let lower = text.to_lowercase();
    // Where capitals change their length, the phrase is looked for as it is written.
    let (text, fold) = if lower.len() == text.len() { (lower.as_str(), true) } else { (text, false) };
    let places = known.flat_map(|phrase| {
        let phrase = if fold { phrase.to_lowercase() } else { phrase.clone() };
        text.match_indices(&phrase).map(|(at, held)| at..at + held.len()).collect::<Vec<_>>()
    });
    places.collect()
}

fn primary(language: &str) -> &str {
    language.split(['-', '_']).next().unwrap_or_default()
}

fn of_word(letter: char) -> bool {
    letter.is_alphabetic() || is_combining_mark(letter) || matches!(letter, '’' | '\'' | '\u{AD}' | '\u{2060}')
}

/// Letters around a place that are looked at: far more than any word has, so that a text without blanks costs no more
/// than another.
pub const REACH: usize = 48;

/// Where letters that belong together begin before a place, and end after it.
pub fn around(text: &str, at: usize, belongs: impl Fn(char) -> bool + Copy) -> Range<usize> {
    let before = text[..at].chars().rev().take(REACH).take_while(|letter| belongs(*letter)).map(char::len_utf8);
    let after = text[at..].chars().take(REACH).take_while(|letter| belongs(*letter)).map(char::len_utf8);
    at - before.sum::<usize>()..at + after.sum::<usize>()
}

/// The words that hyphenation may part: letters with their marks and inner apostrophes. Left out are words with a soft
/// hyphen (the author said where) or a U+2060 (the author said not), and whatever belongs to an address.
pub fn words(text: &str, start: usize) -> impl Iterator<Item = Range<usize>> + '_ {
    let tokens = text[start..].split_inclusive(char::is_whitespace).scan(start, |end, token| {
        *end += token.len();
        Some((*end - token.len(), token))
    });
    let tokens = tokens.filter(|(_, token)| !is_address(token));
    tokens.flat_map(|(from, token)| words_of(token).map(move |word| from + word.start..from + word.end))
}

fn words_of(token: &str) -> impl Iterator<Item = Range<usize>> + '_ {
    let mut at = 0;
    std::iter::from_fn(move || {
        loop {
            let from = at + token[at..].find(of_word)?;
            let end = from + token[from..].find(|letter| !of_word(letter)).unwrap_or(token.len() - from);
            at = end;
            let letters = &token[from..end];
            let whole = letters.contains(['\u{AD}', '\u{2060}']);
            let joint = |letter: char| letter.is_numeric() || matches!(letter, '/' | '_' | '\\');
            let beside = [token[..from].chars().next_back(), token[end..].chars().next()];
            if whole || beside.into_iter().flatten().any(joint) {
                continue;
            }
            let inner = letters.trim_start_matches(['’', '\'']);
            let from = end - inner.len();
            let word = from..from + inner.trim_end_matches(['’', '\'']).len();
            if !word.is_empty() {
                return Some(word);
            }
        }
    })
}

/// An address of a page, a house or a person on the web, or a part of one: `https://a.example/b`, `a.example`,
/// `a@b.example`. A hyphen that is added would be taken for one of its own.
fn is_address(token: &str) -> bool {
    let inner = |(at, letter): (usize, char)| {
        matches!(letter, '.' | '@')
            && token[..at].ends_with(char::is_alphanumeric)
            && token[at + 1..].starts_with(char::is_alphanumeric)
    };
    token.contains("://") || token.char_indices().any(inner)
}
