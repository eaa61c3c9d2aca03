//! Glyph: one glyph placed on a line; what `typeset` gives and the scene keeps.

use serde::{Deserialize, Serialize};
use std::ops::Range;

/// A glyph with its place on a line. Runs list them in visual order, left to right, spaces included.
#[derive(Clone, Debug, PartialEq)]
pub struct Glyph {
    pub id: u16,
    /// The glyph's origin in the run's space, offsets included, in millimetres.
    pub x: f64,
    pub y: f64,
    /// How far the pen moved on, letter and word space included, in millimetres.
    pub advance: f64,
    /// The bytes of the run's text it stands for; empty when another glyph of its cluster speaks for them.
    pub text: Range<usize>,
}

/// Where a run of glyphs stands in what its element says.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sequence {
    /// Runs in this order are read one after the other, whichever way their script runs.
    pub place: u32,
    pub end: RunEnd,
}

/// What ends with a run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum RunEnd {
    /// Nothing: its line goes on.
    #[default]
    Within,
    /// A line, broken where the measure asked for it: after a blank that the run has, or within a word.
    Line,
    /// A line that the author ends here.
    Chosen,
    Paragraph,
}
