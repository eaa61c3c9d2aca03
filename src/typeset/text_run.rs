//! A run of glyphs with its text, as whoever copies or searches the words finds it.

use crate::assets::{Glyph, RunEnd, Sequence};
use crate::typeset::{block::TextRun, shaped::Cut};

/// Glyphs, and the bytes of `source` that each stands for. A hyphen that was written again at its start or added at its end
/// stands for a soft hyphen, so that copied words have none. Its size is that of the cut, beside the text's.
pub fn text_run(cut: &Cut, source: &str, (again, hyphen): (bool, bool), mut glyphs: Vec<Glyph>) -> TextRun {
    // Word joiners have done their work; whoever copies or searches the words would stumble on them.
    let mut text = String::with_capacity(source.len() + 2);
    let mut places = Vec::with_capacity(source.len() + 1);
    for letter in source.chars() {
        places.extend(std::iter::repeat_n(text.len(), letter.len_utf8()));
        if again && text.is_empty() {
            text.push('\u{AD}');
        } else if letter != WORD_JOINER {
            text.push(letter);
        }
    }
    places.push(text.len());
    if hyphen && !text.ends_with('\u{AD}') {
        text.push('\u{AD}');
    }
    let shown = |at: usize| places.get(at).copied().unwrap_or(text.len());
    for glyph in glyphs.iter_mut().filter(|glyph| !glyph.text.is_empty()) {
        glyph.text = shown(glyph.text.start)..shown(glyph.text.end);
    }
    // Letters that show nothing before the first glyph go with it.
    let first = glyphs.iter_mut().filter(|glyph| !glyph.text.is_empty()).min_by_key(|glyph| glyph.text.start);
    if let Some(first) = first {
        first.text.start = 0;
    }
    TextRun {
        font: cut.font.clone(),
        size: cut.scale,
        stretch: 1.0,
        glyphs,
        text: text.into(),
        sequence: Sequence { place: 0, end: RunEnd::Within },
        apart: 0,
        turns: Vec::new(),
    }
}

/// U+2060: its word is not to be split.
const WORD_JOINER: char = '\u{2060}';
