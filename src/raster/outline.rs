//! Outlines in pixels: a path as straight edges, and the edges as chains that lead downwards without turning back.

use crate::ground::{Affine, FillRule, Path, PathEl, Point, flatten};
use std::ops::Range;

/// How far a flattened curve may stray, in pixels.
pub const FLATNESS: f64 = 0.02;
/// Paths that reach further out than this, in pixels, are on no sheet and are not drawn.
const FARTHEST: f64 = 1e8;

/// One straight edge, from its upper to its lower end.
#[derive(Clone, Copy, Debug)]
pub struct PathEdge {
    pub top: f64,
    pub bottom: f64,
    x: f64,
    slope: f64,
    pub turns: i32,
}

impl PathEdge {
    pub fn upright(x: f64, (top, bottom): (f64, f64), turns: i32) -> PathEdge {
        PathEdge { top, bottom, x, slope: 0.0, turns }
    }

    /// Where it runs at a height between its ends.
    pub fn at(&self, y: f64) -> f64 {
        self.x + (y - self.top) * self.slope
    }

    /// The part of it between two heights.
    pub fn within(&self, top: f64, bottom: f64) -> (f64, f64) {
        (if self.top > top { self.top } else { top }, if self.bottom < bottom { self.bottom } else { bottom })
    }
}

/// Edges that follow each other downwards, all drawn in one direction. Between two of them the chain may step sideways, where
/// the path runs level.
#[derive(Clone, Debug)]
pub struct Chain {
    pub top: f64,
    pub bottom: f64,
    pub left: f64,
    pub right: f64,
    /// From the uppermost to the lowest.
    pub edges: Range<usize>,
    pub turns: i32,
}

/// A path in pixels, flattened.
#[derive(Clone, Debug, Default)]
pub struct PixelOutline {
    pub edges: Vec<PathEdge>,
    /// By their upper ends.
    pub chains: Vec<Chain>,
    pub rule: FillRule,
    pub bottom: f64,
    /// Of a simple one, whose edges do not cross: 1 where those that lead downwards lead inside, and -1 where they lead out.
    pub way: Option<f64>,
}

impl PixelOutline {
    pub fn new(path: &Path, rule: FillRule, to_pixels: Affine) -> PixelOutline {
        let path = to_pixels * path;
        let mut outline = PixelOutline { rule, bottom: f64::NEG_INFINITY, ..PixelOutline::default() };
        if !is_drawable(&path) {
            return outline;
        }
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
        for chain in &outline.chains {
            if chain.turns < 0 {
                outline.edges[chain.edges.clone()].reverse();
            }
        }
        outline.chains.sort_by(|a, b| a.top.total_cmp(&b.top));
        outline
    }

    /// The same, of a path that is known to be simple.
    #[must_use]
    pub fn simple(mut self) -> PixelOutline {
        // Twice the area between an edge and the axis: added up, less than nothing where left edges lead downwards.
        let beside = |edge: &PathEdge| {
            f64::from(edge.turns) * (edge.at(edge.top) + edge.at(edge.bottom)) * (edge.bottom - edge.top)
        };
        self.way = Some(if self.edges.iter().map(beside).sum::<f64>() > 0.0 { -1.0 } else { 1.0 });
        self
    }

    /// Adds an edge as the path is drawn: downwards below the last one of a chain, upwards above it.
    fn edge(&mut self, from: Point, to: Point) {
        let (upper, lower, turns) = if from.y <= to.y { (from, to, 1) } else { (to, from, -1) };
        let slope = (lower.x - upper.x) / (lower.y - upper.y);
        if upper.y >= lower.y || !slope.is_finite() || !upper.x.is_finite() {
            return;
        }
        let edge = PathEdge { top: upper.y, bottom: lower.y, x: upper.x, slope, turns };
        self.bottom = self.bottom.max(edge.bottom);
        let chain = match self.chains.last_mut() {
            Some(chain) if turns > 0 && chain.turns > 0 && chain.bottom.to_bits() == edge.top.to_bits() => {
                chain.bottom = edge.bottom;
                chain
            }
            Some(chain) if turns < 0 && chain.turns < 0 && chain.top.to_bits() == edge.bottom.to_bits() => {
                chain.top = edge.top;
                chain
            }
            _ => return self.chain_of(edge),
        };
        let (near, far) = ordered(from.x, to.x);
        (chain.left, chain.right) = (chain.left.min(near), chain.right.max(far));
        self.edges.push(edge);
        chain.edges.end = self.edges.len();
    }

    /// Adds an edge as a chain of its own.
    pub fn chain_of(&mut self, edge: PathEdge) {
        let PathEdge { top, bottom, turns, .. } = edge;
        let (left, right) = ordered(edge.at(top), edge.at(bottom));
        let at = self.edges.len();
        self.edges.push(edge);
        self.chains.push(Chain { top, bottom, left, right, edges: at..at + 1, turns });
    }
}

/// Whether a path, in pixels, is one that a sheet can hold.
pub fn is_drawable(path: &Path) -> bool {
    let reach = path.control_box();
    let far = |edge: f64| edge.abs() > FARTHEST;
    path.is_finite() && ![reach.x0, reach.y0, reach.x1, reach.y1].into_iter().any(far)
}

/// Passes an edge from left to right: 1 where it leads inside, -1 where it leads out.
pub fn turned(rule: FillRule, winding: &mut i32, turns: i32) -> Option<f64> {
    let before = is_inside(rule, *winding);
    *winding += turns;
    let after = is_inside(rule, *winding);
    (before != after).then_some(if after { 1.0 } else { -1.0 })
}

pub fn is_inside(rule: FillRule, winding: i32) -> bool {
    match rule {
        FillRule::NonZero => winding != 0,
        FillRule::EvenOdd => winding % 2 != 0,
    }
}

/// The lesser of two first. Neither is ever no number.
pub fn ordered(one: f64, other: f64) -> (f64, f64) {
    if one < other { (one, other) } else { (other, one) }
}
