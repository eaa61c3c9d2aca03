//! Joined: the outline of all that a path covers. Lines inside it, where its parts lie over each other, are gone: letters
//! of a script that run into one another have one outline together.
//!
//! Where parts cross, their curves become short straight pieces. A piece bounds the whole when it has paint on one side
//! alone. Parts that cross nothing keep their curves.

use crate::ground::crossings::{Bands, SAME, StraightPiece};
use crate::ground::{Path, PathEl, Point, flatten};
use std::collections::BTreeMap;

/// Beyond so many straight pieces nothing is joined: the letters of a long text.
const MOST_PIECES: usize = 150_000;
/// How far a straight piece may stray from its curve, in millimetres: half a dot of 2400 to the inch.
const FINE: f64 = 0.005;

/// Filled by either rule, the result covers what the path covers by the rule `NonZero`; `None` where that would take too
/// long.
pub fn joined(path: &Path) -> Option<Path> {
    let contours = contours(path);
    let pieces: Vec<StraightPiece> =
        contours.iter().enumerate().flat_map(|(at, contour)| straight(contour, at)).collect();
    if pieces.is_empty() {
        return Some(path.clone());
    }
    if pieces.len() > MOST_PIECES {
        return None;
    }
    let bands = Bands::new(&pieces, path.control_box())?;
    let (splits, crossing) = bands.crossings(contours.len());
    let mut whole = Path::new();
    for own in pieces.chunk_by(|a, b| a.contour == b.contour).filter(|own| !crossing[own[0].contour]) {
        let contour = &contours[own[0].contour];
        let longest = own.iter().max_by(|a, b| a.from.distance(a.to).total_cmp(&b.from.distance(b.to)));
        match longest.map(|piece| bands.sides(piece.from, piece.to)) {
            Some((false, true)) => whole.extend(contour.iter()),
            Some((true, false)) => whole.extend(contour.reverse_subpaths().iter()),
            _ => {}
        }
    }
    let mut bounding = Vec::new();
    for (at, piece) in pieces.iter().enumerate().filter(|(_, piece)| crossing[piece.contour]) {
        let mut from = piece.from;
        for to in splits[at].iter().map(|split| split.1).chain([piece.to]) {
            if from.distance(to) > SAME {
                match bands.sides(from, to) {
                    (false, true) => bounding.push((from, to)),
                    (true, false) => bounding.push((to, from)),
                    _ => {}
                }
                from = to;
            }
        }
    }
    chain(&bounding, &mut whole);
    Some(whole)
}

/// Each closed line of a path by itself.
fn contours(path: &Path) -> Vec<Path> {
    let mut all: Vec<Path> = Vec::new();
    for element in path.elements() {
        match (element, all.last_mut()) {
            (PathEl::MoveTo(_), _) => all.push(Path::from_vec(vec![*element])),
            (PathEl::ClosePath, _) | (_, None) => {}
            (element, Some(last)) => last.push(*element),
        }
    }
    all.retain(|contour| contour.elements().len() > 2 && contour.is_finite());
    all.iter_mut().for_each(Path::close_path);
    all
}

fn straight(contour: &Path, at: usize) -> Vec<StraightPiece> {
    let mut points: Vec<Point> = Vec::new();
    flatten(contour, FINE, |element| {
        if let PathEl::MoveTo(point) | PathEl::LineTo(point) = element
            && points.last().is_none_or(|last| last.distance(point) > SAME)
        {
            points.push(point);
        }
    });
    if points.len() > 1 && points[0].distance(points[points.len() - 1]) <= SAME {
        points.pop();
    }
    let next = |from: usize| points[(from + 1) % points.len()];
    if points.len() < 3 {
        return Vec::new();
    }
    (0..points.len()).map(|from| StraightPiece { from: points[from], to: next(from), contour: at }).collect()
}

/// A point, rounded so far that those of one place are one.
type RoundedPoint = (i64, i64);

/// Pieces put together to closed lines; of two alike one counts.
fn chain(pieces: &[(Point, Point)], whole: &mut Path) {
    let key = |point: Point| ((point.x / SAME).round() as i64, (point.y / SAME).round() as i64);
    let mut from: BTreeMap<RoundedPoint, BTreeMap<RoundedPoint, (Point, Point)>> = BTreeMap::new();
    for piece in pieces {
        from.entry(key(piece.0)).or_default().insert(key(piece.1), *piece);
    }
    while let Some((start, mut ends)) = from.pop_first() {
        let Some((mut at, first)) = ends.pop_first() else { continue };
        if !ends.is_empty() {
            from.insert(start, ends);
        }
        whole.move_to(first.0);
        whole.line_to(first.1);
        while at != start {
            let Some(ends) = from.get_mut(&at) else { break };
            let here = at;
            let Some((next, piece)) = ends.pop_first() else { break };
            if ends.is_empty() {
                from.remove(&here);
            }
            at = next;
            whole.line_to(piece.1);
        }
        whole.close_path();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Ellipse, Rect, Shape as _, rect_path};

    fn circle(x: f64, y: f64, radius: f64) -> Path {
        Ellipse::new((x, y), (radius, radius), 0.0).to_path(1e-4)
    }

    fn joined(path: &Path) -> Path {
        super::joined(path).expect("few pieces")
    }

    /// A text of more letters than can be joined is told apart from one that is.
    #[test]
    fn too_many_pieces_are_not_joined() {
        let mut all = Path::new();
        for at in 0..MOST_PIECES / 3 {
            let x = at as f64;
            all.extend(rect_path(Rect::new(x, 0.0, x + 0.5, 1.0)).iter());
        }
        assert!(super::joined(&all).is_none());
    }

    fn both(a: Path, b: &Path) -> Path {
        let mut both = a;
        both.extend(b.iter());
        both
    }

    /// Two circles of radius 1 whose middles are 1 apart cover 2π less the lens 2π/3 − √3/2 (Euclid's vesica piscis).
    #[test]
    fn what_two_circles_cover() {
        let whole = joined(&both(circle(0.0, 0.0, 1.0), &circle(1.0, 0.0, 1.0)));
        let turn = std::f64::consts::PI;
        let covered = 2.0 * turn - (2.0 * turn / 3.0 - 3.0_f64.sqrt() / 2.0);
        assert!((whole.area().abs() - covered).abs() < 0.03, "{}", whole.area());
        assert_eq!(whole.elements().iter().filter(|element| matches!(element, PathEl::MoveTo(_))).count(), 1);
        assert!(!whole.elements().iter().any(|element| matches!(element, PathEl::CurveTo(..))));
    }

    /// What crosses nothing keeps its curves and its holes, and is gone inside something else.
    #[test]
    fn parts_by_themselves_keep_their_curves() {
        let ring = both(circle(0.0, 0.0, 3.0), &circle(0.0, 0.0, 2.0).reverse_subpaths());
        let apart = joined(&both(ring.clone(), &circle(9.0, 0.0, 1.0)));
        let area = |path: &Path| path.area().abs();
        assert!((area(&apart) - area(&ring) - area(&circle(9.0, 0.0, 1.0))).abs() < 1e-9);
        assert!(apart.elements().iter().any(|element| matches!(element, PathEl::CurveTo(..))));
        let swallowed = joined(&both(circle(0.0, 0.0, 3.0), &circle(0.0, 0.0, 2.0)));
        assert!((area(&swallowed) - area(&circle(0.0, 0.0, 3.0))).abs() < 1e-9);
    }

    /// Edges that lie on each other, and parts that only touch.
    #[test]
    fn shared_edges_vanish() {
        let rect = |x0, x1| rect_path(Rect::new(x0, 0.0, x1, 1.0));
        for (a, b, area) in [
            (rect(0.0, 1.0), rect(1.0, 2.0), 2.0),
            (rect(0.0, 1.0), rect(0.5, 2.0), 2.0),
            (rect(0.0, 1.0), rect(0.0, 1.0), 1.0),
            (rect(0.0, 3.0), rect(1.0, 2.0), 3.0),
        ] {
            let whole = joined(&both(a, &b));
            assert!((whole.area().abs() - area).abs() < 1e-9, "{area}: {whole:?}");
        }
    }

    /// Whatever is thrown together: the result is painted where the path is painted, by either rule.
    #[test]
    fn covers_what_the_path_covers() {
        let mut seed = 7_u32;
        let mut next = |most: f64| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(seed >> 8) / f64::from(1 << 24) * most
        };
        for _ in 0..60 {
            let mut path = Path::new();
            for _ in 0..5 {
                let shape = if next(1.0) < 0.5 {
                    circle(next(4.0), next(4.0), 0.3 + next(1.5))
                } else {
                    let (x, y) = (next(4.0), next(4.0));
                    rect_path(Rect::new(x, y, x + 0.2 + next(2.0), y + 0.2 + next(2.0)))
                };
                path.extend(if next(1.0) < 0.3 { shape.reverse_subpaths() } else { shape }.iter());
            }
            let whole = joined(&path);
            let mut wrong = 0;
            for _ in 0..400 {
                let point = Point::new(next(6.0) - 1.0, next(6.0) - 1.0);
                let (inside, turns) = (path.winding(point) != 0, whole.winding(point));
                wrong += usize::from(inside != (turns != 0) || inside != (turns % 2 != 0));
            }
            // A point may fall between a curve and its straight pieces.
            assert!(wrong < 4, "{wrong}");
        }
    }
}
