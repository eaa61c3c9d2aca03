//! Letters and words that a style sets apart.

use crate::cover::{Palette, TypeStyle};
use crate::language::fillings::{SWATCH, ink_of};
use crate::language::nodes::style::apart_words::{LETTER, ONLY, RAISE, SHARE, SIZE, TURN, WORD};
use crate::language::nodes::style::letters;
use crate::source::Reader;
use crate::typeset::SetApart;

/// Each is sought through the whole text.
const MOST_APART: usize = 200;

/// What is said of the same letters once more takes the place of what was said before.
pub fn read(reader: &Reader<'_>, into: &mut TypeStyle, palette: &Palette) {
    let mut reported = false;
    for (of, whole) in [(&LETTER, false), (&WORD, true)] {
        for word in reader.children(of) {
            let Some(words) = word.text() else { continue };
            if words.value.trim().is_empty() {
                let help = format!("write `{} \"…\" {{ … }}`", of.name);
                word.error(words.span, format!("`{}` lacks its letters", of.name), help);
                continue;
            }
            let only = word.number_property(&ONLY).map(|only| only.value as usize);
            let mut apart = SetApart { words: words.value, whole, only, ..SetApart::default() };
            let ink = word.child(&SWATCH).and_then(|swatch| ink_of(&swatch, palette));
            if let Some(size) = word.child(&SIZE) {
                apart.scale = size.percent_property(&SHARE).unwrap_or(1.0);
            }
            let plain = |of| word.child(of).and_then(|word| word.number()).map_or(0.0, |number| number.value);
            (apart.raise, apart.turn) = (plain(&RAISE) / 100.0, plain(&TURN));
            letters::features(&word, &mut apart.features);
            let same = |known: &SetApart| known.words == apart.words && known.whole == whole && known.only == only;
            if let Some(at) = into.style.apart.iter().position(same) {
                into.style.apart[at] = apart;
                into.apart[at] = ink;
            } else if into.style.apart.len() < MOST_APART {
                into.style.apart.push(apart);
                into.apart.push(ink);
            } else if !std::mem::replace(&mut reported, true) {
                // Those beyond the limit are understood, and the first of them is reported.
                let message = format!("a style sets {MOST_APART} letters and words apart at the most");
                word.error(word.span(), message, "take one style for many words, or divide the text");
            }
        }
    }
}
