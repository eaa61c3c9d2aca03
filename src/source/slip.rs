//! Slip: one thing that is not written as KDL wants it, at its narrowest place, with the way out.

use crate::source::tokens::is_newline;
use std::ops::Range;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    pub range: Range<usize>,
    pub message: String,
    pub help: String,
}

impl Slip {
    pub fn new(range: Range<usize>, message: impl Into<String>, help: impl Into<String>) -> Slip {
        Slip { range, message: message.into(), help: help.into() }
    }
}

/// Letters of the author's own words in a message.
const SHOWN: usize = 40;

/// The first line of what was said, cut where it is long.
pub fn shorten(stated: &str) -> String {
    let line: String = stated.chars().take_while(|letter| !is_newline(*letter)).take(SHOWN).collect();
    if line.len() < stated.len() { format!("{line}…") } else { line }
}
