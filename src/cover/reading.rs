//! Which way a spine reads, and why.

use crate::ground::right_to_left;

/// Where the words of a spine run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reading {
    /// From head to foot, lines turned clockwise.
    Down,
    /// From foot to head, lines turned the other way.
    Up,
    /// Letters upright, one under the other.
    Upright,
    /// Lines across the spine, as on a page.
    Across,
}

impl Reading {
    pub const WORDS: [(&'static str, Option<Reading>); 5] = [
        ("auto", None),
        ("down", Some(Reading::Down)),
        ("up", Some(Reading::Up)),
        ("upright", Some(Reading::Upright)),
        ("across", Some(Reading::Across)),
    ];

    pub fn word(self) -> &'static str {
        Reading::WORDS.iter().find(|(_, reading)| *reading == Some(self)).map_or("auto", |(word, _)| word)
    }

    /// The custom of a language, and the sentence that says so. ISO 6357:1985 and ANSI/NISO Z39.41 let spine titles
    /// run downwards (both cited from summaries); the custom of continental Europe and Latin America, upwards, is
    /// common practice and no longer uniform.
    pub fn of_language(tag: &str) -> (Reading, &'static str) {
        match tag.split('-').next().unwrap_or_default() {
            "fr" | "es" | "pt" | "de" | "pl" | "cs" | "sk" | "hu" | "ro" | "hr" | "sl" | "el" | "ca" | "gl" | "eu" => {
                (Reading::Up, "spines in this language mostly read upwards (common practice)")
            }
            "ja" | "zh" | "ko" => (Reading::Upright, "spines in this script are set upright (common practice)"),
            _ if right_to_left(tag) => {
                (Reading::Down, "spines of books that are read from right to left mostly read downwards (from memory)")
            }
            _ => (Reading::Down, "spine titles read downwards (ISO 6357)"),
        }
    }

    /// Degrees clockwise that a line is turned by. What runs downwards begins at the head of the book, so that words that
    /// run from right to left are turned the other way.
    pub fn turn(self, right_to_left: bool) -> f64 {
        let down = if right_to_left { -90.0 } else { 90.0 };
        match self {
            Reading::Down => down,
            Reading::Up => -down,
            Reading::Upright | Reading::Across => 0.0,
        }
    }
}
