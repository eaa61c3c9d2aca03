//! Shaping: the glyphs of a word, for comparison with other programs.

use crate::assets::{Font, shared};
use crate::typeset::{Cut, Script, ScriptRun, Shaper, Stance};
use std::sync::Arc;

/// A word, and how it is to be set.
pub struct AskedWord<'a> {
    pub text: &'a str,
    /// ISO 15924: `Latn`.
    pub script: &'a str,
    /// BCP 47: `sr`.
    pub language: &'a str,
    pub rtl: bool,
    /// A variable font's place, in user coordinates; none for a static one.
    pub place: &'a [([u8; 4], f32)],
    /// OpenType's features, and what they are set to.
    pub features: &'a [([u8; 4], u32)],
}

/// A glyph, lengths in units of the font.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedGlyph {
    pub id: u16,
    /// The byte of the word at which it begins.
    pub cluster: usize,
    pub advance: f64,
    pub x: f64,
    /// Upwards.
    pub y: f64,
}

/// The glyphs from left to right in the first face of a font file; `None` where it is no font or the script has no such
/// name.
pub fn shape_word(font: &Arc<[u8]>, asked: &AskedWord<'_>) -> Option<Vec<PlacedGlyph>> {
    let font = Font::open(&shared(font.clone())).ok()?.into_iter().next()?;
    let font = if asked.place.is_empty() { font } else { font.at(asked.place.to_vec()) };
    let em = f64::from(font.units_per_em());
    let cuts = [Cut { font: Arc::new(font), scale: 1.0, features: asked.features.to_vec() }];
    let run = ScriptRun {
        range: 0..asked.text.len(),
        cut: 0,
        script: Script::from_short_name(asked.script)?,
        level: u8::from(asked.rtl),
        stance: Stance::Along,
    };
    let mut glyphs = Vec::new();
    Shaper::new(&cuts, asked.language).shape(asked.text, 0..asked.text.len(), &run, None, &mut glyphs);
    let placed = glyphs.iter().map(|glyph| PlacedGlyph {
        id: glyph.id,
        cluster: glyph.cluster,
        advance: glyph.advance * em,
        x: glyph.x * em,
        y: -glyph.y * em,
    });
    Some(placed.collect())
}
