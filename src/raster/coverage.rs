//! Outlines to coverage: the exact share of each pixel that a path covers.
//!
//! A pixel row is cut into slabs where chains of edges begin and end. Mostly the chains of a slab lie side by side, each in
//! columns of its own: then their order is known, the fill rule picks the ones that part inside from outside, and the areas
//! beside their edges are summed. Where chains may meet, the slab is cut again at every corner, so that all edges are
//! straight in it, and their crossings are sorted. Letters are asked once whether their chains cross at all; of those that
//! do not, the areas are summed in any order. No sampling: a rule a tenth of a pixel high keeps its tenth. Plain
//! arithmetic in a fixed order, so every machine gives the same bytes.

use crate::raster::corners::{MOST_CROSSINGS, cover_corners};
use crate::raster::cut::{FEW, cut};
use crate::raster::outline::{PathEdge, PixelOutline, ordered, turned};
use crate::raster::row::CoverageRow;
use crate::raster::slabs::{Scratch, cut_row, for_rows, gather_spans};
use crate::raster::straight::THINNEST;
use crate::raster::window::Window;

/// Calls `paint(row, first, end, coverage)` for every run of covered pixels, rows and columns counted in the window.
/// The outline is moved by `shift` pixels first.
pub fn cover(
    outline: &PixelOutline,
    shift: (f64, f64),
    window: Window,
    scratch: &mut Scratch,
    mut paint: impl FnMut(usize, usize, usize, u8),
) {
    let (left, above) = (window.x as f64 - shift.0, window.y as f64 - shift.1);
    scratch.row.resize(window.width);
    let mut part = std::mem::take(&mut scratch.part);
    let mut whole = outline;
    if outline.way.is_none() && outline.chains.len() > FEW {
        let (right, bottom) = (left + window.width as f64, above + window.height as f64);
        cut(outline, (above, bottom), (left, right), &mut scratch.beside, &mut part);
        whole = &part;
    }
    let outline = whole;
    for_rows(outline, above, window.height, scratch, |row, top, scratch| {
        match outline.way {
            Some(way) => cover_simple(outline, top, left, way, scratch),
            None => cover_row(outline, top, left, scratch),
        }
        scratch.row.drain(|first, end, coverage| paint(row, first, end, coverage));
    });
    scratch.part = part;
}

/// Of edges that do not cross, the areas beside them add up in any order.
fn cover_simple(outline: &PixelOutline, top: f64, left: f64, way: f64, Scratch { active, row, .. }: &mut Scratch) {
    for chain in active.iter() {
        cover_edges(&outline.edges[chain.edges.clone()], (top, top + 1.0), left, way * f64::from(chain.turns), row);
    }
}

/// Sums the areas beside edges that follow each other downwards, between two heights.
fn cover_edges(edges: &[PathEdge], (top, bottom): (f64, f64), left: f64, way: f64, row: &mut CoverageRow) {
    for edge in edges.iter().take_while(|edge| edge.top < bottom) {
        let (from, to) = edge.within(top, bottom);
        let (near, far) = ordered(edge.at(from) - left, edge.at(to) - left);
        row.edge(near, far, (to - from) * way);
    }
}

fn cover_row(outline: &PixelOutline, top: f64, left: f64, scratch: &mut Scratch) {
    let mut cuts = std::mem::take(&mut scratch.cuts);
    let many = cut_row(top, &scratch.active, &mut cuts);
    // The slabs of a row share its crossings.
    let most = MOST_CROSSINGS / (cuts.len() - 1);
    for slab in cuts.windows(2) {
        let slab = (slab[0], slab[1]);
        if many || !cover_side_by_side(outline, slab, left, scratch) {
            cover_corners(outline, &scratch.active, slab, left, most, &mut scratch.corners, &mut scratch.row);
        }
    }
    scratch.cuts = cuts;
}

/// Covers a slab whose chains lie side by side; says whether they do.
fn cover_side_by_side(
    outline: &PixelOutline,
    (top, bottom): (f64, f64),
    left: f64,
    Scratch { active, spans, row, .. }: &mut Scratch,
) -> bool {
    gather_spans(outline, (top, bottom), left, active, spans);
    if spans.windows(2).any(|pair| pair[0].right > pair[1].left + THINNEST) {
        return false;
    }
    let mut winding = 0;
    for span in spans.iter() {
        let Some(way) = turned(outline.rule, &mut winding, span.turns) else { continue };
        if span.end == span.first + 1 {
            row.edge(span.left, span.right, (bottom - top) * way);
        } else {
            cover_edges(&outline.edges[span.first..span.end], (top, bottom), left, way, row);
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Affine, FillRule, Path, Point, Rect, Shape, Vec2, flatten, rect_path};
    use crate::raster::corners::CornerRoom;
    use crate::raster::outline::{Chain, FLATNESS, is_inside};

    const SIDE: usize = 64;
    /// Points along each side of a pixel.
    const POINTS: usize = 10;

    const WHOLE: Window = Window { x: 0, y: 0, width: SIDE, height: SIDE };

    fn covered(path: &Path, rule: FillRule) -> Vec<u8> {
        covered_in(WHOLE, (0.0, 0.0), path, rule)
    }

    fn covered_in(window: Window, shift: (f64, f64), path: &Path, rule: FillRule) -> Vec<u8> {
        let mut pixels = vec![0; window.area()];
        let outline = PixelOutline::new(path, rule, Affine::IDENTITY);
        cover(&outline, shift, window, &mut Scratch::default(), |row, a, b, share| {
            pixels[row * window.width + a..row * window.width + b].fill(share);
        });
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

    /// A scribble of so many lines, each across a good part of the pixels.
    fn scribble(lines: usize) -> Path {
        let mut seed = 5_u32;
        let mut place = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(seed >> 8) / f64::from(1 << 24) * 90.0 - 13.0
        };
        let mut path = Path::new();
        path.move_to((place(), place()));
        (1..lines).for_each(|_| path.line_to((place(), place())));
        path.close_path();
        path
    }

    /// More lines cross a row than it has pixels: as points tell what is inside, asked of the library of curves.
    #[test]
    fn a_scribble_agrees_with_many_points_a_pixel() {
        let path = scribble(400);
        for rule in [FillRule::NonZero, FillRule::EvenOdd] {
            let pixels = covered(&path, rule);
            let (mut worst, mut sum) = (0.0_f64, 0.0);
            for y in (0..SIDE).step_by(9) {
                for x in 0..SIDE {
                    let inside = (0..POINTS * POINTS).filter(|point| {
                        let offset = Vec2::new((point % POINTS) as f64 + 0.5, (point / POINTS) as f64 + 0.5);
                        let corner = Point::new(x as f64, y as f64);
                        is_inside(rule, path.winding(corner + offset / POINTS as f64))
                    });
                    let share = inside.count() as f64 / (POINTS * POINTS) as f64;
                    let off = f64::from(pixels[y * SIDE + x]) / 255.0 - share;
                    (worst, sum) = (worst.max(off.abs()), sum + off);
                }
            }
            assert!(worst < 0.1 && sum.abs() < 1.0, "{rule:?}: worst {worst}, sum {sum}");
            // In a tile, lines beside it count together.
            let part = Window { x: 21, y: 9, width: 30, height: 40 };
            let cut = covered_in(part, (0.0, 0.0), &path, rule);
            for (row, cut) in cut.chunks(part.width).enumerate() {
                let whole = &pixels[(part.y + row) * SIDE + part.x..][..part.width];
                assert!(cut.iter().zip(whole).all(|(a, b)| a.abs_diff(*b) <= 20), "{rule:?}: {row}");
            }
        }
    }

    /// Every row cut at all corners.
    fn covered_by_corners(path: &Path, rule: FillRule) -> Vec<u8> {
        let outline = PixelOutline::new(path, rule, Affine::IDENTITY);
        let (mut room, mut line) = (CornerRoom::default(), CoverageRow::default());
        let mut pixels = vec![0; SIDE * SIDE];
        line.resize(SIDE);
        for (row, pixels) in pixels.chunks_mut(SIDE).enumerate() {
            let (top, bottom) = (row as f64, (row + 1) as f64);
            let active = outline.chains.iter().filter(|chain| chain.bottom > top && chain.top < bottom);
            let active: Vec<Chain> = active.cloned().collect();
            cover_corners(&outline, &active, (top, bottom), 0.0, MOST_CROSSINGS, &mut room, &mut line);
            line.drain(|a, b, share| pixels[a..b].fill(share));
        }
        pixels
    }

    /// A ring, a letter, steps, and paths by chance that cross themselves and leave the window: a part of them, shifted, is
    /// covered as it is within the whole, and every row as when it is cut at all corners.
    #[test]
    fn paths_are_covered_alike_in_every_way() {
        let round = |x: f64, y: f64, radius: f64| kurbo::Circle::new((x, y), radius).to_path(1e-4);
        let ring = round(30.0, 31.0, 25.0).into_iter().chain(round(31.0, 30.5, 11.3).reverse_subpaths()).collect();
        let letter = "M9 60L29.3 4.7H34L57 60H48V58.2L41 41H20.5L14 58.2V60ZM22 37.2H39.6L30.4 13.4Z";
        let steps = "M4 4H20V9.4H31.7V9.9H40V30.3L44 30.3V50H9.2V20H4Z";
        let mut paths = vec![ring, Path::from_svg(letter).expect("a path"), Path::from_svg(steps).expect("a path")];
        let mut seed = 17_u32;
        let mut place = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(seed >> 8) / f64::from(1 << 24) * 90.0 - 13.0
        };
        paths.extend((0..120).map(|turn| {
            let mut point = || Point::new(place(), place());
            let mut path = Path::new();
            path.move_to(point());
            (0..2 + turn % 9)
                .for_each(|_| if turn % 2 == 0 { path.line_to(point()) } else { path.quad_to(point(), point()) });
            path.close_path();
            path
        }));
        let part = Window { x: 21, y: 9, width: 30, height: 40 };
        for (turn, path) in paths.iter().enumerate() {
            let (right, down) = (turn % 5, turn % 7);
            for rule in [FillRule::NonZero, FillRule::EvenOdd] {
                let (quick, exact) = (covered(path, rule), covered_by_corners(path, rule));
                assert!(quick.iter().zip(&exact).all(|(a, b)| a.abs_diff(*b) <= 1), "{turn} {rule:?}");
                let cut = covered_in(part, (right as f64, down as f64), path, rule);
                for (row, cut) in cut.chunks(part.width).enumerate() {
                    let start = (part.y + row - down) * SIDE + part.x - right;
                    let whole = &quick[start..start + part.width];
                    assert!(cut.iter().zip(whole).all(|(a, b)| a.abs_diff(*b) <= 1), "{turn} {rule:?}: row {row}");
                }
            }
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
