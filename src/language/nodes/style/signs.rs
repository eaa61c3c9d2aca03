//! Signs: which signs of a keyboard a style prints as its language does.

use crate::source::Reader;
use crate::typeset::Signs;

/// `signs quotes dashes`, or `signs none`.
pub fn read(word: &Reader<'_>) -> Signs {
    let mut signs = Signs::default();
    while word.peek().is_some() {
        let Some(which) = word.choice() else { break };
        match which.value {
            "quotes" => signs.quotes = true,
            "dashes" => signs.dashes = true,
            "spaces" => signs.spaces = true,
            _ => signs = Signs::default(),
        }
    }
    signs
}
