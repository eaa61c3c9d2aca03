//! Slabs of a pixel row in which the chains of an outline meet: cut at every corner, and halved where edges cross.

use crate::ground::FillRule;
use crate::raster::outline::{Chain, PathEdge, PixelOutline, ordered, turned};
use crate::raster::row::{CoverageRow, RowSide};
use crate::raster::sampled::{MANY, SampleRoom, cover_sampled};
use crate::raster::straight::{Straight, THINNEST, cover_cut};

/// Corners a pixel row may hold before it is cut evenly instead.
pub const MOST_SLABS: usize = 48;
/// How often a slab is halved in which edges cross.
const HALVINGS: u32 = 5;
/// Crossings of edges and slabs in a pixel row; in a row with more edges the slabs are fewer and not halved. The row of a tile
/// has a few hundred pixels, so that more edges are no longer told apart.
pub const MOST_CROSSINGS: usize = 1 << 13;
/// Where only those edges are halved that cross one another, so many times as many.
const TANGLED: usize = 4;

/// Room to work in, kept from slab to slab.
#[derive(Default)]
pub struct CornerRoom {
    edges: Vec<PathEdge>,
    corners: Vec<f64>,
    crossings: Vec<(f64, f64, i32)>,
    straights: Vec<Straight>,
    samples: SampleRoom,
}

/// Covers a slab that is cut at every corner in it.
pub fn cover_corners(
    outline: &PixelOutline,
    active: &[Chain],
    (top, bottom): (f64, f64),
    left: f64,
    most_crossings: usize,
    CornerRoom { edges, corners, crossings, straights, samples }: &mut CornerRoom,
    row: &mut CoverageRow,
) {
    edges.clear();
    for chain in active {
        let own = outline.edges[chain.edges.clone()].iter().skip_while(|edge| edge.bottom <= top);
        edges.extend(own.take_while(|edge| edge.top < bottom));
    }
    if edges.len() > MANY {
        return cover_sampled(outline.rule, (top, bottom), left, edges, samples, row);
    }
    corners.clear();
    corners.push(top);
    for edge in edges.iter() {
        corners.extend([edge.top, edge.bottom].into_iter().filter(|y| *y > top && *y < bottom));
    }
    corners.sort_unstable_by(f64::total_cmp);
    corners.dedup_by(|next, kept| *next - *kept < THINNEST);
    let slabs = (most_crossings / edges.len().max(1)).clamp(1, MOST_SLABS);
    let is_cut = corners.len() <= slabs;
    if !is_cut {
        corners.clear();
        corners.extend((0..slabs).map(|slab| top + (bottom - top) * slab as f64 / slabs as f64));
    }
    // Each halving may sort all of them twice as often.
    let work = edges.len() * corners.len();
    let spare = if is_cut { most_crossings * TANGLED } else { most_crossings };
    let halvings = spare.checked_div(work).and_then(usize::checked_ilog2).unwrap_or(0).min(HALVINGS);
    corners.push(bottom);
    for slab in corners.windows(2) {
        let slab = (slab[0], slab[1]);
        if is_cut {
            cover_cut(outline.rule, slab, left, edges, straights, row, halvings);
        } else {
            cover_straight(outline.rule, slab, left, edges, crossings, row, halvings);
        }
    }
}

/// Covers a slab in which edges may begin and end; where they cross, it is halved.
fn cover_straight(
    rule: FillRule,
    (top, bottom): (f64, f64),
    left: f64,
    edges: &[PathEdge],
    crossings: &mut Vec<(f64, f64, i32)>,
    row: &mut CoverageRow,
    halvings: u32,
) {
    let middle = f64::midpoint(top, bottom);
    crossings.clear();
    let mut winding = 0;
    for edge in edges.iter().filter(|edge| edge.top <= middle && edge.bottom > middle) {
        let (from, to) = edge.within(top, bottom);
        let (upper, lower) = (edge.at(from) - left, edge.at(to) - left);
        match row.side(upper, lower) {
            RowSide::Left => winding += edge.turns,
            RowSide::Within => crossings.push((upper, lower, edge.turns)),
            RowSide::Right => {}
        }
    }
    crossings.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
    let tangled = crossings.windows(2).any(|pair| pair[0].0 > pair[1].0 + THINNEST || pair[0].1 > pair[1].1 + THINNEST);
    if tangled && halvings > 0 {
        cover_straight(rule, (top, middle), left, edges, crossings, row, halvings - 1);
        cover_straight(rule, (middle, bottom), left, edges, crossings, row, halvings - 1);
        return;
    }
    row.start(rule, winding, bottom - top);
    for (upper, lower, turns) in crossings.iter() {
        if let Some(way) = turned(rule, &mut winding, *turns) {
            let (near, far) = ordered(*upper, *lower);
            row.edge(near, far, (bottom - top) * way);
        }
    }
}
