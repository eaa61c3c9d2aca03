//! Letters: features of the font, and how spaces, letters and their widths may give.

use crate::language::nodes::style::apart_words::FEATURES;
use crate::language::nodes::style::words::{KERN, LETTER_SPACE, LETTER_WIDTH, WORD_SPACE};
use crate::source::{Datum, Reader};
use crate::typeset::{Capitals, Style};

pub fn features(reader: &Reader<'_>, features: &mut Vec<([u8; 4], u32)>) {
    let Some(word) = reader.child(&FEATURES) else { return };
    let mut add = |tag: &str, value: u32, span| match <[u8; 4]>::try_from(tag.as_bytes()) {
        Ok(tag) => features.push((tag, value)),
        Err(_) => {
            word.error(span, format!("{tag:?} is not a feature tag"), "OpenType tags have four letters: \"onum\"");
        }
    };
    while word.peek().is_some() {
        if let Some(tag) = word.text() {
            add(&tag.value, 1, tag.span);
        }
    }
    for (key, value) in word.free_properties() {
        match value.datum {
            Datum::Flag(on) => add(&key.value, u32::from(on), key.span),
            Datum::Number(which) if (0.0..=255.0).contains(&which) => add(&key.value, which as u32, key.span),
            _ => word.error(value.span, "a feature is on, off or a number", "write liga=#false, or ss01=#true"),
        }
    }
}

pub fn spaces(reader: &Reader<'_>, style: &mut Style) {
    if let Some(word) = reader.child(&WORD_SPACE) {
        let parts = [word.percent(), word.percent(), word.percent()];
        if let [Some(least), Some(ideal), Some(most)] = parts {
            if least <= ideal && ideal <= most {
                style.word_space = [least, ideal, most];
            } else {
                word.error(word.span(), "least, ideal and most should rise", "write `word-space 80 100 140`");
            }
        }
    }
    if let Some(word) = reader.child(&LETTER_SPACE)
        && let (Some(least), Some(most)) = (word.number(), word.number())
    {
        style.letter_space = (least.value.min(0.0), most.value.max(0.0));
    }
    if let Some(word) = reader.child(&LETTER_WIDTH)
        && let (Some(least), Some(most)) = (word.percent(), word.percent())
    {
        style.letter_width = (least.min(1.0), most.max(1.0));
    }
}

/// Instead of a pair: all capitals, evenly or as the font has them.
const EVEN: &str = "even";
const AS_DRAWN: &str = "font";
/// Each is looked for between all letters.
const MOST_KERNS: usize = 400;

/// Pairs of letters that stand apart or closer; the same pair once more takes the place of the one before.
pub fn kerns(reader: &Reader<'_>, style: &mut Style) {
    let mut reported = false;
    for word in reader.children(&KERN) {
        let Some(pair) = word.text() else { continue };
        if matches!(pair.value.as_str(), EVEN | AS_DRAWN) && word.peek().is_none() {
            style.capitals = if pair.value == EVEN { Capitals::Even } else { Capitals::AsDrawn };
            continue;
        }
        if word.peek().is_none() {
            let help = "write thousandths of an em, `kern \"f?\" 60`; or `kern even` for all capitals";
            word.error(pair.span, format!("`kern {:?}` lacks its number", pair.value), help);
        }
        let Some(by) = word.number() else { continue };
        let mut letters = pair.value.chars();
        let (Some(left), Some(right), None) = (letters.next(), letters.next(), letters.next()) else {
            word.error(
                pair.span,
                format!("{:?} is not a pair of letters", pair.value),
                "write two, as they are shown: `kern \"f?\" 60`",
            );
            continue;
        };
        style.kerns.retain(|known| (known.0, known.1) != (left, right));
        if style.kerns.len() < MOST_KERNS {
            style.kerns.push((left, right, by.value));
        } else if !std::mem::replace(&mut reported, true) {
            // Those beyond the limit are understood, and the first of them is reported.
            let message = format!("a style kerns {MOST_KERNS} pairs at the most");
            word.error(word.span(), message, "keep those that the words have");
        }
    }
}
