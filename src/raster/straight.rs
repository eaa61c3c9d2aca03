//! Straight edges through a slab from its head to its foot. Mostly few of them cross: the slab is halved for these alone.

use crate::ground::FillRule;
use crate::raster::outline::{PathEdge, ordered, turned};
use crate::raster::row::{CoverageRow, RowSide};
use std::ops::Range;

/// Slabs thinner than this share of a pixel are joined to their neighbour.
pub const THINNEST: f64 = 1e-7;

/// An edge by where it enters the slab and where it leaves it.
#[derive(Clone, Copy)]
pub struct Straight {
    upper: f64,
    lower: f64,
    turns: i32,
    /// The leftmost place above, and below, of this one and all that follow it.
    least: (f64, f64),
}

/// Covers a slab that is cut at every corner.
pub fn cover_cut(
    rule: FillRule,
    (top, bottom): (f64, f64),
    left: f64,
    edges: &[PathEdge],
    straights: &mut Vec<Straight>,
    row: &mut CoverageRow,
    halvings: u32,
) {
    let middle = f64::midpoint(top, bottom);
    straights.clear();
    let mut winding = 0;
    for edge in edges.iter().filter(|edge| edge.top <= middle && edge.bottom > middle) {
        let (from, to) = edge.within(top, bottom);
        let (upper, lower) = (edge.at(from) - left, edge.at(to) - left);
        match row.side(upper, lower) {
            RowSide::Left => winding += edge.turns,
            RowSide::Within => {
                straights.push(Straight { upper, lower, turns: edge.turns, least: (upper, lower) });
            }
            RowSide::Right => {}
        }
    }
    row.start(rule, winding, bottom - top);
    cover(straights, 0..straights.len(), (rule, bottom - top), winding, row, halvings);
}

/// Covers beside some of them; the winding is that on their left.
fn cover(
    all: &mut Vec<Straight>,
    which: Range<usize>,
    (rule, height): (FillRule, f64),
    mut winding: i32,
    row: &mut CoverageRow,
    halvings: u32,
) {
    let some = &mut all[which.clone()];
    some.sort_by(|a, b| (a.upper + a.lower).total_cmp(&(b.upper + b.lower)));
    let mut least = (f64::INFINITY, f64::INFINITY);
    for straight in some.iter_mut().rev() {
        least = (least.0.min(straight.upper), least.1.min(straight.lower));
        straight.least = least;
    }
    let mut start = which.start;
    while start < which.end {
        let end = crossing(all, start, which.end);
        if end == start + 1 || halvings == 0 {
            for straight in &all[start..end] {
                if let Some(way) = turned(rule, &mut winding, straight.turns) {
                    let (near, far) = ordered(straight.upper, straight.lower);
                    row.edge(near, far, height * way);
                }
            }
        } else {
            let room = all.len();
            for is_upper in [true, false] {
                for at in start..end {
                    let whole = all[at];
                    let middle = f64::midpoint(whole.upper, whole.lower);
                    let half = if is_upper { (whole.upper, middle) } else { (middle, whole.lower) };
                    all.push(Straight { upper: half.0, lower: half.1, ..whole });
                }
                let halves = room..all.len();
                cover(all, halves, (rule, height / 2.0), winding, row, halvings - 1);
                all.truncate(room);
            }
            winding += all[start..end].iter().map(|straight| straight.turns).sum::<i32>();
        }
        start = end;
    }
}

/// Where those end that cross one of those before them.
fn crossing(all: &[Straight], start: usize, end: usize) -> usize {
    let mut most = (f64::NEG_INFINITY, f64::NEG_INFINITY);
    for at in start + 1..end {
        let (before, least) = (&all[at - 1], all[at].least);
        most = (most.0.max(before.upper), most.1.max(before.lower));
        if most.0 <= least.0 + THINNEST && most.1 <= least.1 + THINNEST {
            return at;
        }
    }
    end
}
