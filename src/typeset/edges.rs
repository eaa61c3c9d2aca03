//! Edges of lines: how far a letter at a line's beginning or end stands out, so that the edge looks straight.

use crate::assets::Font;
use crate::typeset::{
    profile::profile,
    shape::{Cut, Shaped},
    style::Edges,
};

/// Round and sloping letters are let out by this share of what is hollow beside them, and by so much of an em at the most.
/// Common practice, judged by eye.
const SHARE: f64 = 0.2;
const MOST: f64 = 0.018;

/// Levels at which a letter is looked at.
const LEVELS: usize = 24;

/// How far the ink of one letter's glyphs begins after the pen, and ends before its next place, in ems of the text; for the
/// eye, round and sloping letters more. Negative where ink reaches out.
pub fn bearings<'a>(glyphs: impl Iterator<Item = &'a Shaped> + Clone, cut: &Cut, edges: Edges) -> (f64, f64) {
    if edges == Edges::Font {
        return (0.0, 0.0);
    }
    let mut pen = 0.0;
    let mut ink = (f64::MAX, f64::MIN);
    let mut hollow = (0.0, 0.0);
    for glyph in glyphs {
        if let Some(bounds) = cut.font.glyph_bounds(glyph.id) {
            let (left, right) = (pen + glyph.x + bounds.x0 * cut.scale, pen + glyph.x + bounds.x1 * cut.scale);
            let beside = if edges == Edges::Eye { hollows(&cut.font, glyph.id) } else { (0.0, 0.0) };
            if left < ink.0 {
                (ink.0, hollow.0) = (left, beside.0 * cut.scale);
            }
            if right > ink.1 {
                (ink.1, hollow.1) = (right, beside.1 * cut.scale);
            }
        }
        pen += glyph.advance;
    }
    if ink.0 > ink.1 {
        return (0.0, 0.0);
    }
    let let_out = |hollow: f64| (hollow * SHARE).min(MOST * cut.scale);
    (ink.0 + let_out(hollow.0), pen - ink.1 + let_out(hollow.1))
}

/// The mean room between a glyph's ink and its outermost points, at the left and at the right.
fn hollows(font: &Font, glyph: u16) -> (f64, f64) {
    let Some(bounds) = font.glyph_bounds(glyph) else { return (0.0, 0.0) };
    let levels = profile(font.outline(glyph), (bounds.y0, bounds.y1), LEVELS);
    let inked = levels.iter().flatten().count().max(1) as f64;
    let left: f64 = levels.iter().flatten().map(|(least, _)| least - bounds.x0).sum();
    let right: f64 = levels.iter().flatten().map(|(_, most)| bounds.x1 - most).sum();
    (left / inked, right / inked)
}
