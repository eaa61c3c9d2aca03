//! Outlines to coverage: the exact share of each pixel that a path covers.
//!
//! A pixel row is cut into slabs at every corner of the path, so that within a slab all edges are straight; crossings are
//! sorted, the fill rule picks the ones that part inside from outside, and their areas are summed. No sampling: a rule a
//! tenth of a pixel high keeps its tenth. Plain arithmetic in a fixed order, so every machine gives the same bytes.

use crate::ground::{Affine, FillRule, Path, PathEl, Point, flatten};
use crate::raster::row::Row;

/// How far a flattened curve may stray, in pixels.
pub const FLATNESS: f64 = 0.02;
/// Corners a pixel row may hold before it is cut evenly instead.
const MOST_SLABS: usize = 48;
/// How often a slab is halved in which edges cross.
const HALVINGS: u32 = 5;
/// Slabs thinner than this share of a pixel are joined to their neighbour.
const THINNEST: f64 = 1e-7;

/// A rectangle of pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    pub x: i64,
    pub y: i64,
    pub width: usize,
    pub height: usize,
}

impl Window {
    pub fn area(&self) -> usize {
        self.width * self.height
    }
}

/// One straight edge, from its upper to its lower end.
#[derive(Clone, Copy, Debug)]
struct Edge {
    top: f64,
    bottom: f64,
    x: f64,
    slope: f64,
    turns: i32,
}

impl Edge {
    fn at(&self, y: f64) -> f64 {
        self.x + (y.clamp(self.top, self.bottom) - self.top) * self.slope
    }
}

/// A path in pixels, flattened.
#[derive(Clone, Debug, Default)]
pub struct Outline {
    /// By their upper ends.
    edges: Vec<Edge>,
    rule: FillRule,
    bottom: f64,
}

impl Outline {
    pub fn new(path: &Path, rule: FillRule, to_pixels: Affine) -> Outline {
        let path = to_pixels * path;
        let mut outline = Outline { edges: Vec::new(), rule, bottom: f64::NEG_INFINITY };
        let (mut start, mut here) = (Point::ZERO, Point::ZERO);
        flatten(&path, FLATNESS, |piece| match piece {
            PathEl::MoveTo(to) => {
                outline.edge(here, start);
                (start, here) = (to, to);
            }
            PathEl::LineTo(to) => {
                outline.edge(here, to);
                here = to;
            }
            _ => {
                outline.edge(here, start);
                here = start;
            }
        });
        outline.edge(here, start);
        outline.edges.sort_by(|a, b| a.top.total_cmp(&b.top));
        outline
    }

    fn edge(&mut self, from: Point, to: Point) {
        let (upper, lower, turns) = if from.y <= to.y { (from, to, 1) } else { (to, from, -1) };
        let slope = (lower.x - upper.x) / (lower.y - upper.y);
        if upper.y < lower.y && slope.is_finite() && upper.x.is_finite() {
            self.edges.push(Edge { top: upper.y, bottom: lower.y, x: upper.x, slope, turns });
            self.bottom = self.bottom.max(lower.y);
        }
    }
}

/// Room to work in, kept from outline to outline.
#[derive(Default)]
pub struct Scratch {
    active: Vec<Edge>,
    cuts: Vec<f64>,
    crossings: Vec<(f64, f64, i32)>,
    row: Row,
}

/// Calls `paint(row, first, end, coverage)` for every run of covered pixels, rows and columns counted in the window.
/// The outline is moved by `shift` pixels first.
pub fn cover(
    outline: &Outline,
    shift: (f64, f64),
    window: Window,
    scratch: &mut Scratch,
    mut paint: impl FnMut(usize, usize, usize, u8),
) {
    let Some(first) = outline.edges.first() else { return };
    let (left, above) = (window.x as f64 - shift.0, window.y as f64 - shift.1);
    let from = (first.top - above).floor().clamp(0.0, window.height as f64) as usize;
    let end = (outline.bottom - above).ceil().clamp(0.0, window.height as f64) as usize;
    scratch.row.resize(window.width);
    scratch.active.clear();
    let mut waiting = outline.edges.iter().peekable();
    for row in from..end {
        let (top, bottom) = (above + row as f64, above + (row + 1) as f64);
        scratch.active.retain(|edge| edge.bottom > top);
        while let Some(edge) = waiting.next_if(|edge| edge.top < bottom) {
            if edge.bottom > top {
                scratch.active.push(*edge);
            }
        }
        if !scratch.active.is_empty() {
            cover_row(outline.rule, top, left, scratch);
            scratch.row.drain(|first, end, coverage| paint(row, first, end, coverage));
        }
    }
}

fn cover_row(rule: FillRule, top: f64, left: f64, scratch: &mut Scratch) {
    let bottom = top + 1.0;
    let Scratch { active, cuts, crossings, row } = scratch;
    cuts.clear();
    cuts.push(top);
    for edge in active.iter() {
        cuts.extend([edge.top, edge.bottom].into_iter().filter(|y| *y > top && *y < bottom));
    }
    cuts.sort_unstable_by(f64::total_cmp);
    cuts.dedup_by(|next, kept| *next - *kept < THINNEST);
    if cuts.len() > MOST_SLABS {
        cuts.clear();
        cuts.extend((0..MOST_SLABS).map(|slab| top + slab as f64 / MOST_SLABS as f64));
    }
    cuts.push(bottom);
    for slab in cuts.windows(2) {
        cover_slab(rule, (slab[0], slab[1]), left, active, crossings, row, HALVINGS);
    }
}

fn cover_slab(
    rule: FillRule,
    (top, bottom): (f64, f64),
    left: f64,
    active: &[Edge],
    crossings: &mut Vec<(f64, f64, i32)>,
    row: &mut Row,
    halvings: u32,
) {
    let middle = f64::midpoint(top, bottom);
    crossings.clear();
    crossings.extend(
        active
            .iter()
            .filter(|edge| edge.top <= middle && edge.bottom > middle)
            .map(|edge| (edge.at(top) - left, edge.at(bottom) - left, edge.turns)),
    );
    crossings.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
    let tangled = crossings.windows(2).any(|pair| pair[0].0 > pair[1].0 + THINNEST || pair[0].1 > pair[1].1 + THINNEST);
    if tangled && halvings > 0 {
        cover_slab(rule, (top, middle), left, active, crossings, row, halvings - 1);
        cover_slab(rule, (middle, bottom), left, active, crossings, row, halvings - 1);
        return;
    }
    let mut winding = 0;
    for (upper, lower, turns) in crossings.iter() {
        let before = is_inside(rule, winding);
        winding += turns;
        let after = is_inside(rule, winding);
        if before != after {
            let height = (bottom - top) * if after { 1.0 } else { -1.0 };
            row.edge(upper.min(*lower), upper.max(*lower), height);
        }
    }
}

fn is_inside(rule: FillRule, winding: i32) -> bool {
    match rule {
        FillRule::NonZero => winding != 0,
        FillRule::EvenOdd => winding % 2 != 0,
    }
}
