//! Hanging punctuation: how much of a sign may stand out of the measure, so that edges look straight. Letters stay within:
//! on a title they would be seen to step out.

use crate::typeset::japanese::{HALF, SQUARE, closes, opens};

/// What of a sign's advance hangs out at a line's beginning.
pub fn start_of(letter: char, advance: f64) -> f64 {
    if opens(letter) { half(advance) } else { at_start(letter) * advance }
}

/// The same at a line's end.
pub fn end_of(letter: char, advance: f64) -> f64 {
    if closes(letter) { half(advance) } else { at_end(letter) * advance }
}

/// East Asian brackets stand in half of their square; the other half falls away at the edge of a line (JLREQ 3.1.5 and 3.1.9,
/// from memory). One that is narrower is drawn without it.
fn half(advance: f64) -> f64 {
    if advance < SQUARE { 0.0 } else { HALF * advance }
}

/// Whether anything of a sign hangs out at a line's end.
pub fn hangs_at_end(letter: char) -> bool {
    closes(letter) || at_end(letter) > 0.0
}

/// The share of its advance by which a sign hangs at a line's beginning. Common practice, judged by eye.
fn at_start(letter: char) -> f64 {
    match letter {
        '“' | '‘' | '"' | '\'' | '„' | '‚' | '”' | '’' | '״' | '׳' => 0.6,
        '«' | '‹' | '»' | '›' => 0.4,
        '(' | '[' | '{' | '¡' | '¿' => 0.12,
        '—' | '–' => 0.2,
        '…' => 0.1,
        _ => 0.0,
    }
}

fn at_end(letter: char) -> f64 {
    match letter {
        '.' | ',' => 0.7,
        '-' | '\u{2010}' | '\u{2011}' | '\u{AD}' | '־' | '”' | '’' | '"' | '\'' | '“' | '‘' | '״' | '׳' => {
            0.6
        }
        '»' | '›' | '«' | '‹' => 0.4,
        ';' | ':' | '،' | '؛' => 0.45,
        '、' | '。' | '，' | '．' => 0.5,
        '–' => 0.3,
        '—' => 0.2,
        '!' | '?' | ')' | ']' | '}' | '…' => 0.12,
        _ => 0.0,
    }
}
