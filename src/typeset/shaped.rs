//! Shaped: what goes into the shaper, runs of one cut, script and direction, and what comes out of it.

use crate::assets::Font;
use crate::typeset::{script::Script, stance::Stance};
use std::ops::Range;
use std::sync::Arc;

/// A cut of a typeface: a font as a run wants it, with its size and features.
#[derive(Clone, Debug)]
pub struct Cut {
    pub font: Arc<Font>,
    /// Its size as a share of the text's: below 1 for capitals that stand for small ones.
    pub scale: f64,
    pub features: Vec<([u8; 4], u32)>,
}

impl Cut {
    /// The letter to hyphenate with.
    pub fn hyphen(&self) -> char {
        if self.font.glyph('\u{2010}').is_some() { '\u{2010}' } else { '-' }
    }
}

/// A glyph as the shaper gives it, lengths in ems of the text.
#[derive(Clone, Copy, Debug)]
pub struct Shaped {
    pub id: u16,
    /// Where the bytes that it stands for begin.
    pub cluster: usize,
    pub advance: f64,
    /// What of its advance was added before the next letter, or taken away where two signs share their empty halves.
    pub room: f64,
    pub x: f64,
    /// Downwards.
    pub y: f64,
    /// How far it is turned about its origin, in radians clockwise.
    pub turn: f64,
    /// Before this cluster the text cannot be split without shaping again.
    pub joined: bool,
}

/// Part of a text in one cut, script and direction.
#[derive(Clone, Debug, PartialEq)]
pub struct ScriptRun {
    pub range: Range<usize>,
    pub cut: usize,
    pub script: Script,
    pub level: u8,
    pub stance: Stance,
}

impl ScriptRun {
    pub fn rtl(&self) -> bool {
        self.level % 2 == 1
    }
}

/// How far each glyph is turned; nothing where none is.
pub fn turns(glyphs: &[Shaped]) -> Vec<f64> {
    let turned = glyphs.iter().any(|glyph| glyph.turn != 0.0);
    glyphs.iter().map(|glyph| glyph.turn).filter(|_| turned).collect()
}
