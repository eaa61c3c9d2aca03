//! Block: paragraphs set to a measure.

use crate::assets::{Font, Glyph};
use std::sync::Arc;

/// Lines in a space of their own, millimetres: x 0 to the measure, y 0 at the ascender line of the first line, down.
#[derive(Clone, Debug)]
pub struct Block {
    pub lines: Vec<Line>,
    /// The size it was set at, in points; differs from the style's where the style gives a range.
    pub size: f64,
    /// From ascender line of the first to descender line of the last line.
    pub height: f64,
    /// The widest line, ink and hanging punctuation left out of account.
    pub width: f64,
    /// Where the capitals of the first line reach up to.
    pub cap_top: f64,
    pub x_top: f64,
    pub first_baseline: f64,
    pub last_baseline: f64,
    /// Set when it does not fit the height or number of lines allowed.
    pub overmatter: Option<Overmatter>,
    /// Letters that the font lacks, each once.
    pub missing: Vec<char>,
    /// Justified lines whose word spaces had to go beyond the style's limits (line numbers from 1).
    pub loose: Vec<usize>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overmatter {
    pub lines: usize,
    pub mm: f64,
}

/// One line, its runs in visual order from left to right.
#[derive(Clone, Debug)]
pub struct Line {
    pub baseline: f64,
    pub runs: Vec<Run>,
    /// A hyphen was added at its end.
    pub hyphenated: bool,
    /// Ends its paragraph.
    pub last: bool,
}

/// Glyphs of one font; their x counts from the block's left edge, y from the line's baseline.
#[derive(Clone, Debug)]
pub struct Run {
    pub font: Arc<Font>,
    /// The em in millimetres.
    pub size: f64,
    pub stretch: f64,
    pub glyphs: Vec<Glyph>,
    pub text: Arc<str>,
}
