//! Letters whose ink meets, although they do not join by design: `f?`, `V` before `ä`.

use crate::assets::{Font, Glyph};
use crate::ground::Path;
use crate::typeset::{
    block::{BlockLine, TextRun, Touch},
    profile::profile,
    script::{cursive, script_of},
};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Smaller type is not looked at: there nobody sees it. In points.
pub const LEAST_SIZE: f64 = 20.0;

/// Ink nearer than this runs together in print, in ems.
const NEAR: f64 = 0.004;

/// What letters that met should stand apart, in ems. Common practice.
const APART: f64 = 0.03;

/// Levels at which two letters are compared.
const LEVELS: usize = 64;

/// Pairs of a block whose ink meets, each once.
pub fn touching(lines: &[BlockLine]) -> Vec<Touch> {
    let mut found: Vec<Touch> = Vec::new();
    let mut joined: BTreeMap<usize, bool> = BTreeMap::new();
    for line in lines {
        let glyphs = line.runs.iter().flat_map(|run| run.glyphs.iter().map(move |glyph| (run, glyph)));
        let drawn: Vec<(&TextRun, &Glyph)> =
            glyphs.filter(|(run, glyph)| run.font.glyph_bounds(glyph.id).is_some() && glyph.advance > 0.0).collect();
        for pair in drawn.windows(2) {
            let [left, right] = [pair[0], pair[1]];
            let Some((first, second)) = letters(left).zip(letters(right)) else { continue };
            let apart = [first, second].iter().any(|letter| script_of(*letter).is_some_and(cursive));
            if apart || found.iter().any(|touch| touch.pair == (first, second)) {
                continue;
            }
            let Some(by) = overlap(left, right) else { continue };
            let font = Arc::as_ptr(&left.0.font) as usize;
            // Letters of a hand that joins them meet everywhere.
            if !*joined.entry(font).or_insert_with(|| joins(&left.0.font)) {
                let kern = ((by + APART) * 100.0).ceil() * 10.0;
                found.push(Touch { pair: (first, second), kern });
            }
        }
    }
    found
}

/// The letter that a glyph shows at its edge; none for a mark.
fn letters((run, glyph): (&TextRun, &Glyph)) -> Option<char> {
    run.text.get(glyph.text.clone())?.chars().next().filter(|letter| !letter.is_whitespace())
}

/// By how much two neighbours' ink overlaps, in ems of the first; `None` where it stays apart.
fn overlap((left, one): (&TextRun, &Glyph), (right, other): (&TextRun, &Glyph)) -> Option<f64> {
    let (a, b) = (left.font.glyph_bounds(one.id)?, right.font.glyph_bounds(other.id)?);
    let near = NEAR * left.size;
    let reaches = one.x + a.x1 * left.size * left.stretch - (other.x + b.x0 * right.size * right.stretch);
    let band = (
        (one.y + a.y0 * left.size).max(other.y + b.y0 * right.size),
        (one.y + a.y1 * left.size).min(other.y + b.y1 * right.size),
    );
    if reaches < -near || band.0 >= band.1 {
        return None;
    }
    let side = |run: &TextRun, glyph: &Glyph| {
        let em = |y: f64| (y - glyph.y) / run.size;
        profile(run.font.outline(glyph.id), (em(band.0), em(band.1)), LEVELS)
    };
    let (rights, lefts) = (side(left, one), side(right, other));
    let most = rights.iter().zip(&lefts).filter_map(|(right_edge, left_edge)| {
        let (end, start) = ((*right_edge)?.1, (*left_edge)?.0);
        Some(one.x + end * left.size * left.stretch - (other.x + start * right.size * right.stretch))
    });
    let most = most.fold(f64::MIN, f64::max);
    (most > -near).then_some(most / left.size)
}

/// Whether the small letters of a font run into each other.
fn joins(font: &Font) -> bool {
    ["nn", "mi", "ea", "un"]
        .iter()
        .filter(|pair| {
            let ids: Vec<u16> = pair.chars().filter_map(|letter| font.glyph(letter)).collect();
            let [one, other] = ids[..] else { return false };
            let reach = |outline: &Path, right: bool| {
                let levels = profile(outline, (-1.0, 0.4), LEVELS);
                levels
                    .into_iter()
                    .map(move |level| level.map(|(least, most)| if right { most } else { least }))
                    .collect::<Vec<_>>()
            };
            let advance = font.advance(one);
            let (ends, starts) = (reach(font.outline(one), true), reach(font.outline(other), false));
            ends.iter()
                .zip(&starts)
                .any(|(end, start)| end.zip(*start).is_some_and(|(end, start)| end > advance + start - NEAR))
        })
        .count()
        > 1
}
