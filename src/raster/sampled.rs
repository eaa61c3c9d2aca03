//! Sampled: a slab in which very many edges cross, along level lines. To find all crossings would take long, and nothing of
//! them is told apart: there are several edges to a pixel.

use crate::ground::FillRule;
use crate::raster::outline::{PathEdge, turned};
use crate::raster::row::CoverageRow;

/// More edges than this are sampled, where they cross.
pub const MANY: usize = 64;
/// Lines of a pixel row: no fewer, and at the most as many; and edges times lines.
const LINES: (usize, usize) = (2, 32);
const MOST_MET: usize = 1 << 13;
/// Places of a pixel that are told apart along a line.
const PLACES: usize = 64;

/// What lies along a line: how the winding changes place by place, and one bit for each place where it does.
#[derive(Default)]
pub struct SampleRoom {
    turns: Vec<i32>,
    touched: Vec<u64>,
}

/// Covers a slab by lines across it.
pub fn cover_sampled(
    rule: FillRule,
    (top, bottom): (f64, f64),
    left: f64,
    edges: &[PathEdge],
    SampleRoom { turns, touched }: &mut SampleRoom,
    row: &mut CoverageRow,
) {
    let places = row.width() * PLACES;
    turns.resize(places, 0);
    touched.resize(places.div_ceil(64), 0);
    let whole = (MOST_MET / edges.len().max(1)).clamp(LINES.0, LINES.1);
    let lines = ((whole as f64 * (bottom - top)).ceil() as usize).max(1);
    let height = (bottom - top) / lines as f64;
    for line in 0..lines {
        let y = top + (line as f64 + 0.5) * height;
        let mut winding = 0;
        for edge in edges.iter().filter(|edge| edge.top <= y && edge.bottom > y) {
            let place = (edge.at(y) - left) * PLACES as f64;
            if place <= 0.0 {
                winding += edge.turns;
            } else if place < places as f64 {
                let place = place as usize;
                turns[place] += edge.turns;
                touched[place / 64] |= 1 << (place % 64);
            }
        }
        row.start(rule, winding, height);
        for (word, bits) in touched.iter_mut().enumerate() {
            let mut bits = std::mem::take(bits);
            while bits != 0 {
                let place = word * 64 + bits.trailing_zeros() as usize;
                bits &= bits - 1;
                if let Some(way) = turned(rule, &mut winding, std::mem::take(&mut turns[place])) {
                    let x = (place as f64 + 0.5) / PLACES as f64;
                    row.edge(x, x, height * way);
                }
            }
        }
    }
}
