//! What glyphs say, so that words come back whole (ISO 32000, ActualText). As a rule each glyph has its own letters; the
//! glyphs of a cluster say one text together, and so does a word whose letters stand so far apart that a reader would
//! take them for many words.
//!
//! A word from right to left is left to its glyphs: readers disagree on the order of its letters in one span.

use crate::assets::Glyph;
use crate::pdf::page_font::PageFont;
use crate::scene::GlyphRun;
use std::borrow::Cow;

/// Glyphs up to `end`, and what they say together.
pub struct ActualText<'a> {
    pub end: usize,
    pub text: Cow<'a, str>,
}

/// Readers see a word's end in a gap of a tenth of an em (seen in one, usual in others).
const GAP: f64 = 0.08;
/// What an added hyphen says: ISO 32000's own way to tell it from one that was written (from memory).
const SOFT_HYPHEN: &str = "\u{ad}";

pub fn actual_text<'a>(font: &PageFont, run: &'a GlyphRun, from: usize) -> ActualText<'a> {
    // Letters along a curve: readers see each by itself.
    if from == 0 && run.glyphs.len() > 1 && run.turns.iter().any(|turn| *turn != 0.0) {
        let end = run.glyphs.len();
        let mut spoken: Vec<usize> = (0..end).filter(|at| stated(font, run, *at).is_some()).collect();
        spoken.sort_by_key(|at| run.glyphs[*at].text.start);
        let text = spoken.into_iter().filter_map(|at| stated(font, run, at)).collect();
        return ActualText { end, text: Cow::Owned(text) };
    }
    let blank = |at: &usize| stated(font, run, *at).is_some_and(|text| text.trim().is_empty());
    // A word is looked at when its first glyph comes.
    if from == 0 || blank(&(from - 1)) {
        let end = (from..run.glyphs.len()).find(blank).unwrap_or(run.glyphs.len());
        if ascending(&run.glyphs[from..end]) && (from + 1..end).any(|at| apart(font, run, at)) {
            let text = (from..end).filter_map(|at| stated(font, run, at)).collect();
            return ActualText { end, text: Cow::Owned(text) };
        }
    }
    let silent = |at: &usize| stated(font, run, *at).is_none();
    let end = (from + 1..run.glyphs.len()).find(|at| !silent(at)).unwrap_or(run.glyphs.len());
    ActualText { end, text: Cow::Borrowed(stated(font, run, from).unwrap_or_default()) }
}

/// The letters of one glyph; `None` when another glyph speaks for it.
pub fn stated<'a>(font: &PageFont, run: &'a GlyphRun, at: usize) -> Option<&'a str> {
    let glyph = &run.glyphs[at];
    match run.text.get(glyph.text.clone()).unwrap_or_default() {
        "" => font.is_hyphen(glyph.id).then_some(SOFT_HYPHEN),
        text => Some(text),
    }
}

/// Whether a glyph stands away from the one before it.
fn apart(font: &PageFont, run: &GlyphRun, at: usize) -> bool {
    let em = run.size * run.stretch;
    let before = &run.glyphs[at - 1];
    run.glyphs[at].x - before.x - font.width(before.id) / 1000.0 * em > GAP * em
}

/// Whether a word reads from left to right. A glyph that another one speaks for has no place of its own in it.
pub fn ascending(glyphs: &[Glyph]) -> bool {
    glyphs.iter().filter(|glyph| !glyph.text.is_empty()).is_sorted_by_key(|glyph| glyph.text.start)
}
