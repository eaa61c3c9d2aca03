//! Slabs: an outline cut into pixel rows, and these where chains of edges begin and end.

use crate::raster::corners::{CornerRoom, MOST_CROSSINGS, MOST_SLABS};
use crate::raster::outline::{Chain, PixelOutline, ordered};
use crate::raster::row::CoverageRow;
use crate::raster::straight::THINNEST;

/// Room to work in, kept from outline to outline.
#[derive(Default)]
pub struct Scratch {
    pub active: Vec<Chain>,
    pub cuts: Vec<f64>,
    pub spans: Vec<ChainSpan>,
    pub corners: CornerRoom,
    pub row: CoverageRow,
    /// The part of an outline that counts in a tile, and the turns beside it.
    pub part: PixelOutline,
    pub beside: Vec<(f64, i32)>,
}

/// The columns in which a chain runs through a slab, and its edges there.
pub struct ChainSpan {
    pub left: f64,
    pub right: f64,
    pub first: usize,
    pub end: usize,
    pub turns: i32,
}

/// Calls `each(row, top, scratch)` for every pixel row with edges in it, its chains the active ones.
pub fn for_rows(
    outline: &PixelOutline,
    above: f64,
    rows: usize,
    scratch: &mut Scratch,
    mut each: impl FnMut(usize, f64, &mut Scratch),
) {
    let Some(first) = outline.chains.first() else { return };
    let from = (first.top - above).floor().clamp(0.0, rows as f64) as usize;
    let end = (outline.bottom - above).ceil().clamp(0.0, rows as f64) as usize;
    scratch.active.clear();
    let mut waiting = outline.chains.iter().peekable();
    for row in from..end {
        let (top, bottom) = (above + row as f64, above + (row + 1) as f64);
        scratch.active.retain(|chain| chain.bottom > top);
        while let Some(chain) = waiting.next_if(|chain| chain.top < bottom) {
            if chain.bottom > top {
                let passed = outline.edges[chain.edges.clone()].partition_point(|edge| edge.bottom <= top);
                scratch.active.push(Chain { edges: chain.edges.start + passed..chain.edges.end, ..chain.clone() });
            }
        }
        for chain in &mut scratch.active {
            while outline.edges[chain.edges.start].bottom <= top {
                chain.edges.start += 1;
            }
        }
        if !scratch.active.is_empty() {
            each(row, top, scratch);
        }
    }
}

/// Where the slabs of a row begin and end; true where they would be too many, and the row is one.
pub fn cut_row(top: f64, active: &[Chain], cuts: &mut Vec<f64>) -> bool {
    let bottom = top + 1.0;
    cuts.clear();
    cuts.push(top);
    for chain in active {
        cuts.extend([chain.top, chain.bottom].into_iter().filter(|y| *y > top && *y < bottom));
    }
    cuts.sort_unstable_by(f64::total_cmp);
    cuts.dedup_by(|next, kept| *next - *kept < THINNEST);
    let many = cuts.len() > MOST_SLABS || active.len() * cuts.len() > MOST_CROSSINGS;
    if many {
        cuts.truncate(1);
    }
    cuts.push(bottom);
    many
}

/// The chains that run through a slab, from left to right.
pub fn gather_spans(
    outline: &PixelOutline,
    (top, bottom): (f64, f64),
    left: f64,
    active: &[Chain],
    spans: &mut Vec<ChainSpan>,
) {
    let middle = f64::midpoint(top, bottom);
    spans.clear();
    for chain in active.iter().filter(|chain| chain.top <= middle && chain.bottom > middle) {
        let mut span = ChainSpan {
            left: f64::INFINITY,
            right: f64::NEG_INFINITY,
            first: chain.edges.start,
            end: chain.edges.start,
            turns: chain.turns,
        };
        for at in chain.edges.clone() {
            let edge = &outline.edges[at];
            if edge.bottom <= top {
                span.first = at + 1;
                continue;
            }
            if edge.top >= bottom {
                break;
            }
            let (from, to) = edge.within(top, bottom);
            let (near, far) = ordered(edge.at(from) - left, edge.at(to) - left);
            span.left = if near < span.left { near } else { span.left };
            span.right = if far > span.right { far } else { span.right };
            span.end = at + 1;
        }
        spans.push(span);
    }
    spans.sort_unstable_by(|a, b| (a.left + a.right).total_cmp(&(b.left + b.right)));
}
