//! Outlines to coverage: the exact share of each pixel that a path covers.
//!
//! A pixel row is cut into slabs at every corner of the path, so that within a slab all edges are straight; crossings are
//! sorted, the fill rule picks the ones that part inside from outside, and their areas are summed. No sampling: a rule a
//! tenth of a pixel high keeps its tenth. Plain arithmetic in a fixed order, so every machine gives the same bytes.

use crate::ground::{Affine, FillRule, Path, PathEl, Point, flatten};
use crate::raster::row::CoverageRow;
use crate::raster::window::Window;

/// How far a flattened curve may stray, in pixels.
pub const FLATNESS: f64 = 0.02;
/// Paths that reach further out than this, in pixels, are on no sheet and are not drawn.
const FARTHEST: f64 = 1e8;
/// Corners a pixel row may hold before it is cut evenly instead.
const MOST_SLABS: usize = 48;
/// How often a slab is halved in which edges cross.
const HALVINGS: u32 = 5;
/// Crossings of edges and slabs in a pixel row; in a row with more edges the slabs are fewer and not halved. The
/// row of a sheet has a few thousand pixels, so that more edges are no longer told apart.
const MOST_CROSSINGS: usize = 1 << 15;
/// Slabs thinner than this share of a pixel are joined to their neighbour.
const THINNEST: f64 = 1e-7;

/// One straight edge, from its upper to its lower end.
#[derive(Clone, Copy, Debug)]
struct PathEdge {
    top: f64,
    bottom: f64,
    x: f64,
    slope: f64,
    turns: i32,
}

impl PathEdge {
    fn at(&self, y: f64) -> f64 {
        self.x + (y.clamp(self.top, self.bottom) - self.top) * self.slope
    }
}

/// A path in pixels, flattened.
#[derive(Clone, Debug, Default)]
pub struct PixelOutline {
    /// By their upper ends.
    edges: Vec<PathEdge>,
    rule: FillRule,
    bottom: f64,
}

impl PixelOutline {
    pub fn new(path: &Path, rule: FillRule, to_pixels: Affine) -> PixelOutline {
        let path = to_pixels * path;
        let mut outline = PixelOutline { edges: Vec::new(), rule, bottom: f64::NEG_INFINITY };
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
        outline.edges.sort_by(|a, b| a.top.total_cmp(&b.top));
        outline
    }

    fn edge(&mut self, from: Point, to: Point) {
        let (upper, lower, turns) = if from.y <= to.y { (from, to, 1) } else { (to, from, -1) };
        let slope = (lower.x - upper.x) / (lower.y - upper.y);
        if upper.y < lower.y && slope.is_finite() && upper.x.is_finite() {
            self.edges.push(PathEdge { top: upper.y, bottom: lower.y, x: upper.x, slope, turns });
            self.bottom = self.bottom.max(lower.y);
        }
    }
}

/// Whether a path, in pixels, is one that a sheet can hold.
pub fn is_drawable(path: &Path) -> bool {
    let reach = path.control_box();
    let far = |edge: f64| edge.abs() > FARTHEST;
    path.is_finite() && ![reach.x0, reach.y0, reach.x1, reach.y1].into_iter().any(far)
}

/// Room to work in, kept from outline to outline.
#[derive(Default)]
pub struct Scratch {
    active: Vec<PathEdge>,
    cuts: Vec<f64>,
    crossings: Vec<(f64, f64, i32)>,
    row: CoverageRow,
}

/// Calls `paint(row, first, end, coverage)` for every run of covered pixels, rows and columns counted in the window.
/// The outline is moved by `shift` pixels first.
pub fn cover(
    outline: &PixelOutline,
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
    let slabs = (MOST_CROSSINGS / active.len().max(1)).clamp(1, MOST_SLABS);
    if cuts.len() > slabs {
        cuts.clear();
        cuts.extend((0..slabs).map(|slab| top + slab as f64 / slabs as f64));
    }
    let halvings = if active.len() * cuts.len() > MOST_CROSSINGS / 2 { 0 } else { HALVINGS };
    cuts.push(bottom);
    for slab in cuts.windows(2) {
        cover_slab(rule, (slab[0], slab[1]), left, active, crossings, row, halvings);
    }
}

fn cover_slab(
    rule: FillRule,
    (top, bottom): (f64, f64),
    left: f64,
    active: &[PathEdge],
    crossings: &mut Vec<(f64, f64, i32)>,
    row: &mut CoverageRow,
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Rect, Shape, Vec2, rect_path};

    const SIDE: usize = 64;
    /// Points along each side of a pixel.
    const POINTS: usize = 10;

    fn covered(path: &Path, rule: FillRule) -> Vec<u8> {
        let window = Window { x: 0, y: 0, width: SIDE, height: SIDE };
        let mut pixels = vec![0; window.area()];
        cover(
            &PixelOutline::new(path, rule, Affine::IDENTITY),
            (0.0, 0.0),
            window,
            &mut Scratch::default(),
            |row, a, b, share| {
                pixels[row * SIDE + a..row * SIDE + b].fill(share);
            },
        );
        pixels
    }

    fn area(pixels: &[u8]) -> f64 {
        pixels.iter().map(|share| f64::from(*share)).sum::<f64>() / 255.0
    }

    #[test]
    fn a_circle_has_its_area() {
        let radius = 20.3;
        let circle = kurbo::Circle::new((31.7, 30.2), radius).to_path(1e-4);
        let wanted = std::f64::consts::PI * radius * radius;
        // Chords cut off up to two thirds of the flatness along the whole round.
        let missing = 2.0 / 3.0 * FLATNESS * 2.0 * std::f64::consts::PI * radius;
        let got = area(&covered(&circle, FillRule::NonZero));
        assert!((wanted - missing - 0.2..=wanted + 0.2).contains(&got), "{got} of {wanted}");
    }

    #[test]
    fn a_slope_halves_the_pixels_it_crosses() {
        let pixels = covered(&Path::from_svg("M0 0H10L0 10Z").expect("a path"), FillRule::NonZero);
        assert_eq!((pixels[0], pixels[9], pixels[SIDE * 4 + 5], pixels[SIDE * 5 + 5]), (255, 128, 128, 0));
    }

    #[test]
    fn a_thin_rule_keeps_its_area() {
        let lying = covered(&rect_path(Rect::new(2.0, 3.43, 12.0, 3.53)), FillRule::NonZero);
        assert_eq!((lying[3 * SIDE + 5], lying[2 * SIDE + 5]), (26, 0));
        let between = covered(&rect_path(Rect::new(4.95, 0.0, 5.05, 9.0)), FillRule::NonZero);
        assert_eq!((between[4], between[5]), (13, 13));
    }

    #[test]
    fn rules_and_doubled_edges() {
        let mut twice = rect_path(Rect::new(1.5, 1.0, 5.0, 5.0));
        twice.extend(rect_path(Rect::new(1.5, 1.0, 5.0, 5.0)).iter());
        assert_eq!(covered(&twice, FillRule::NonZero)[2 * SIDE + 1], 128, "an edge drawn twice is the same edge");
        assert!(covered(&twice, FillRule::EvenOdd).iter().all(|share| *share == 0));
    }

    #[test]
    fn crossing_curves_agree_with_many_points_a_pixel() {
        let path = Path::from_svg("M3 5C70 20 -10 40 60 58L8 30L61 9L20 62Q50 10 3 5").expect("a path");
        let flat = {
            let mut flat = Path::new();
            flatten(&path, 2e-3, |piece| flat.push(piece));
            flat
        };
        for rule in [FillRule::NonZero, FillRule::EvenOdd] {
            let pixels = covered(&path, rule);
            let (mut worst, mut squares) = (0.0_f64, 0.0);
            for (pixel, share) in pixels.iter().enumerate() {
                let corner = Point::new((pixel % SIDE) as f64, (pixel / SIDE) as f64);
                let inside = (0..POINTS * POINTS).filter(|point| {
                    let offset =
                        Vec2::new((point % POINTS) as f64 + 0.5, (point / POINTS) as f64 + 0.5) / POINTS as f64;
                    is_inside(rule, flat.winding(corner + offset))
                });
                let off = f64::from(*share) / 255.0 - inside.count() as f64 / (POINTS * POINTS) as f64;
                (worst, squares) = (worst.max(off.abs()), squares + off * off);
            }
            let mean = (squares / pixels.len() as f64).sqrt();
            // The grid of points itself is off by up to half its pitch along an edge.
            assert!(worst < 0.06 && mean < 0.008, "{rule:?}: worst {worst}, mean {mean}");
        }
    }

    #[test]
    fn outside_on_the_left_still_counts() {
        let wide = covered(&Path::from_svg("M-40 2H200V6H-40Z").expect("a path"), FillRule::NonZero);
        assert_eq!((wide[3 * SIDE], wide[3 * SIDE + SIDE - 1], wide[SIDE]), (255, 255, 0));
        let beside = covered(&Path::from_svg("M-9 -9H-1V80H-9Z").expect("a path"), FillRule::NonZero);
        assert!(beside.iter().all(|share| *share == 0));
    }
}
