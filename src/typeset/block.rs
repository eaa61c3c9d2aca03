//! Block: paragraphs set to a measure.

use crate::assets::{Font, Glyph};
use crate::ground::MM_PER_PT;
use crate::typeset::{
    Align, Room, Style,
    layout::{Layout, Prepared},
    place::{Placed, Setting, place},
    shape::Shaper,
};
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
    /// By how much its widest line outruns the measure: a word too long for it. Usually 0.
    pub overwide: f64,
    /// Letters that the font lacks, each once.
    pub missing: Vec<char>,
    /// Justified lines whose word spaces had to go beyond the style's limits (line numbers from 1).
    pub loose: Vec<usize>,
    /// Its first letters stand as a drop cap.
    pub initial: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overmatter {
    pub lines: usize,
    pub mm: f64,
}

/// One line, its runs in visual order from left to right; a drop cap's runs stand first in its first line.
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
///
/// The texts of all runs in logical order are the copy, word for word, as it is shown (capitals where the style sets
/// capitals). The blank at which a line was broken ends its run, as a glyph without advance; a chosen line break has no
/// glyph. The glyph of an added hyphen speaks for a U+00AD at the end of the run's text.
#[derive(Clone, Debug)]
pub struct Run {
    pub font: Arc<Font>,
    /// The em in millimetres.
    pub size: f64,
    pub stretch: f64,
    pub glyphs: Vec<Glyph>,
    pub text: Arc<str>,
}

impl Block {
    /// Bytes in memory, near enough.
    pub fn weight(&self) -> usize {
        let runs = self.lines.iter().flat_map(|line| &line.runs);
        let words: usize =
            runs.map(|run| size_of::<Run>() + run.text.len() + run.glyphs.len() * size_of::<Glyph>()).sum();
        size_of::<Block>() + self.lines.len() * size_of::<Line>() + words
    }
}

/// Sets the lines that a layout decided on.
pub fn build(
    prepared: &Prepared,
    layout: &Layout,
    style: &Style,
    base: &Font,
    room: Room,
    shaper: &mut Shaper<'_>,
) -> Block {
    let em = layout.size * MM_PER_PT;
    let metrics = base.metrics();
    let mut block = Block {
        lines: Vec::with_capacity(layout.rows.len()),
        size: layout.size,
        height: layout.height,
        width: 0.0,
        cap_top: layout.first_baseline - metrics.cap_height * em,
        x_top: layout.first_baseline - metrics.x_height * em,
        first_baseline: layout.first_baseline,
        last_baseline: layout.rows.last().map_or(layout.first_baseline, |row| row.baseline),
        overmatter: layout.overmatter,
        overwide: 0.0,
        missing: Vec::new(),
        loose: Vec::new(),
        initial: layout.rows.iter().any(|row| row.initial.is_some()),
    };
    for row in &layout.rows {
        let paragraph = &prepared.paragraphs[row.paragraph];
        let setting = Setting { passage: &paragraph.passage, gaps: &paragraph.gaps, style, faces: &prepared.faces, em };
        let mut placed = place(&setting, &row.words, shaper);
        let rtl = paragraph.passage.rtl;
        align(&mut placed, style.align, rtl, row.inset, room.width);
        let insets = row.inset.0 + row.inset.1;
        block.width = block.width.max(placed.width + insets);
        block.overwide = block.overwide.max(placed.width + insets - room.width);
        if placed.loose {
            block.loose.push(block.lines.len() + 1);
        }
        for letter in placed.missing {
            if !block.missing.contains(&letter) {
                block.missing.push(letter);
            }
        }
        let mut runs = placed.runs;
        if let (Some(initial), Some(fitted)) = (&paragraph.initial, row.initial) {
            let measures = (em, layout.leading, room.width);
            let mut all = initial.runs(&paragraph.passage, &prepared.faces, fitted, measures);
            all.append(&mut runs);
            runs = all;
        }
        block.lines.push(Line { baseline: row.baseline, runs, hyphenated: row.words.hyphen, last: row.last });
    }
    if block.overwide < OVERWIDE {
        block.overwide = 0.0;
    }
    block
}

/// What no eye sees, in millimetres.
pub const OVERWIDE: f64 = 1e-3;

fn align(placed: &mut Placed, align: Align, rtl: bool, inset: (f64, f64), measure: f64) {
    let (left, right) = if rtl { (inset.1, measure - inset.0) } else { (inset.0, measure - inset.1) };
    let spare = right - left - placed.width;
    let share = match align {
        Align::Centre => 0.5,
        Align::Left => 0.0,
        Align::Right => 1.0,
        Align::Start | Align::Justify => f64::from(u8::from(rtl)),
        Align::End => f64::from(u8::from(!rtl)),
    };
    let shift = left + spare * share - placed.hung;
    let glyphs = placed.runs.iter_mut().flat_map(|run| &mut run.glyphs);
    glyphs.for_each(|glyph| glyph.x += shift);
}
