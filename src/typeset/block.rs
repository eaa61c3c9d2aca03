//! Block: paragraphs set to a measure, line by line.

use crate::assets::{Font, Glyph, RunEnd, Sequence};
use std::sync::Arc;

/// Lines in a space of their own, millimetres: x 0 to the measure, y 0 at the ascender line of the first line, down.
#[derive(Clone, Debug, Default)]
pub struct Block {
    pub lines: Vec<BlockLine>,
    /// The size it was set at, in points; differs from the style's where the style gives a range.
    pub size: f64,
    /// From ascender line of the first to descender line of the last line.
    pub height: f64,
    /// The widest line, ink and hanging punctuation left out of account.
    pub width: f64,
    /// Where the capitals of the first line reach up to.
    pub cap_top: f64,
    pub first_baseline: f64,
    /// Set when it does not fit the height or number of lines allowed.
    pub overmatter: Option<Overmatter>,
    /// By how much its widest line outruns the measure: a word too long for it. Usually 0.
    pub overwide: f64,
    /// Of the lines more (or fewer, below 0) that the style asks for, so many cannot be had.
    pub unreached: i32,
    /// Letters that the font lacks, each once.
    pub missing: Vec<char>,
    /// Justified lines whose word spaces had to go beyond the style's limits (line numbers from 1).
    pub loose: Vec<usize>,
    /// What its family has not, each once; something else was set in its place.
    pub lacks: Vec<Lack>,
    /// Letters whose ink meets; looked for in display sizes.
    pub touching: Vec<Touch>,
    /// Its first letters stand as a drop cap.
    pub initial: bool,
}

/// Two letters whose ink meets, and what sets them apart, in thousandths of an em.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    pub pair: (char, char),
    pub kern: f64,
}

/// What a style or the copy asks of a family that has it not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lack {
    /// Emphasis is set like the words around it.
    Emphasis,
    /// Strong words are set like those around them.
    Strong,
    /// Capitals are scaled.
    SmallCaps,
    /// It is left out.
    Feature([u8; 4]),
    /// A variable font's axis; it is left out.
    Axis([u8; 4]),
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overmatter {
    pub lines: usize,
    pub mm: f64,
}

/// One line, its runs in visual order from left to right; a drop cap's runs stand first in its first line.
#[derive(Clone, Debug)]
pub struct BlockLine {
    pub baseline: f64,
    pub runs: Vec<TextRun>,
    /// A hyphen was added at its end.
    pub hyphenated: bool,
    pub end: RunEnd,
}

/// Glyphs of one font; their x counts from the block's left edge, y from the line's baseline.
///
/// The texts of all runs in their sequence are the copy, word for word, as it is shown (capitals where the style sets
/// capitals), but for word joiners (U+2060), which only the setter needs. The blank at which a line was broken ends its
/// run, as a glyph without advance; a chosen line break has no
/// glyph. The glyph of an added hyphen speaks for a U+00AD at the end of the run's text.
#[derive(Clone, Debug)]
pub struct TextRun {
    pub font: Arc<Font>,
    /// The em in millimetres.
    pub size: f64,
    pub stretch: f64,
    pub glyphs: Vec<Glyph>,
    pub text: Arc<str>,
    pub sequence: Sequence,
    /// Which of the style's letters and words set apart it is, from 1; 0 for the others.
    pub apart: u16,
    /// How far each glyph is turned about its origin, in radians clockwise; empty where none is.
    pub turns: Vec<f64>,
}

impl Block {
    /// Bytes in memory, near enough.
    pub fn weight(&self) -> usize {
        let runs = self.lines.iter().flat_map(|line| &line.runs);
        let words: usize =
            runs.map(|run| size_of::<TextRun>() + run.text.len() + run.glyphs.len() * size_of::<Glyph>()).sum();
        size_of::<Block>() + self.lines.len() * size_of::<BlockLine>() + words
    }
}
