//! Samples: something that stands in each place without complaint.

use crate::source::{Slot, Takes, Word};

/// Values that a word takes.
pub fn values(word: &Word) -> String {
    word.takes.iter().map(|slot| sample(word, slot)).collect::<Vec<_>>().join(" ")
}

/// Something that stands in a place without complaint.
pub fn sample(word: &Word, slot: &Slot) -> String {
    let text = match (word.name, slot.what) {
        ("panel", _) => "spine",
        ("use", "a part's name") => "device",
        (_, "thirteen digits in quotes") => "978-1-83742-615-7",
        ("title" | "lines", _) => "Salt",
        (_, "a language tag, such as en-GB") => "en-GB",
        (_, "a currency, such as GBP") => "GBP",
        (_, "the amount in quotes") => "9.90",
        ("date" | "until", _) => "2026-04-02",
        ("data", _) => "M0 0 L9 9",
        ("file", _) => "kite.svg",
        ("copy", _) => "copy.md",
        ("add-on", _) => "51299",
        ("lab", _) => "60 10 10",
        (_, "a family") => "Inter",
        (_, "two letters") => "AV",
        (_, "a letter" | "a word") => "Sea",
        (_, "a feature tag") => "onum",
        (_, "a colour, such as \"#2f6f7e\"") => "#2f6f7e",
        (_, "a swatch" | "a second swatch" | "a swatch at the back" | "a plate") => "black",
        (_, "a swatch, or none") => "none",
        (_, "a style") => "plain",
        (_, "a fact") => "title",
        (_, "a list of facts") => "quote",
        (_, "a guide or an offset in millimetres") => "trim",
        (_, "a panel's name") => "spine",
        _ => "x",
    };
    match slot.takes {
        Takes::Text | Takes::Name => format!("{text:?}"),
        Takes::Choice(words) => words[0].to_owned(),
        Takes::Flag => "#true".to_owned(),
        Takes::Number(least, most) | Takes::Percent(least, most) | Takes::Length(_, least, most) => {
            (if least <= 10.0 && 10.0 <= most { 10.0 } else { least }).to_string()
        }
        Takes::Whole(least, most) => (if least <= 10.0 && 10.0 <= most { 10.0 } else { least }).to_string(),
    }
}

/// Properties without which a reader gives up before it comes to the rest, unless what is tried takes their place.
pub fn needed(word: &Word, tried: &str) -> String {
    let all: &[(&str, &str, &str)] = &[
        ("image", "file", "\"kite.svg\""),
        ("path", "data", "\"M0 0 L9 9\""),
        ("text", "words", "\"x\""),
        ("tint", "of", "night"),
    ];
    let replaced = |property: &str| property == tried || (property, tried) == ("words", "stand-in");
    let own = all.iter().filter(|(name, property, _)| *name == word.name && !replaced(property));
    own.map(|(_, property, value)| format!("{property}={value}")).collect::<Vec<_>>().join(" ")
}
