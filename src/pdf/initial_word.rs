//! A word that a large initial begins and a smaller line goes on with. Readers take letters of two sizes for two words, so
//! one span says it whole.

use crate::assets::RunEnd;
use crate::pdf::content::Content;
use crate::pdf::forme::Forme;
use crate::pdf::text::open_span;
use crate::scene::{GlyphRun, Mark};

pub struct InitialWord {
    /// What the initial begins.
    text: String,
    /// The rest of the word, and the rest of its line.
    rest: GlyphRun,
    line: GlyphRun,
}

/// An initial is so many times as large as its text.
const LARGER: f64 = 1.5;

impl InitialWord {
    /// When a run is an initial, and the mark after it goes on with its word.
    pub fn of(initial: &GlyphRun, next: &Mark) -> Option<InitialWord> {
        let Mark::Glyphs(line) = next else { return None };
        let joins = initial.size > line.size * LARGER
            && initial.sequence.end == RunEnd::Within
            && line.sequence.place == initial.sequence.place + 1
            && initial.text.ends_with(char::is_alphanumeric)
            && line.text.starts_with(char::is_alphanumeric);
        // A word from right to left is left to its glyphs.
        let ascending = line.glyphs.is_sorted_by_key(|glyph| glyph.text.start);
        if !joins || !ascending || !line.turns.is_empty() {
            return None;
        }
        let end = line.text.find(char::is_whitespace).unwrap_or(line.text.len());
        let count = line.glyphs.iter().take_while(|glyph| glyph.text.end <= end).count();
        let part = |glyphs: &[_]| GlyphRun { glyphs: glyphs.to_vec(), ..line.clone() };
        let text = format!("{}{}", initial.text, &line.text[..end]);
        Some(InitialWord { text, rest: part(&line.glyphs[..count]), line: part(&line.glyphs[count..]) })
    }
}

impl Forme<'_> {
    pub fn initial_word(&mut self, content: &mut Content, initial: &GlyphRun, word: &InitialWord) {
        open_span(content, &word.text);
        self.glyphs(content, initial);
        self.glyphs(content, &word.rest);
        content.word("EMC");
        self.glyphs(content, &word.line);
    }
}
