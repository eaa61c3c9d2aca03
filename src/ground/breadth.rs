//! Breadth: how broad a filled shape is, as a line is.

use crate::ground::{FillRule, Path, PathEl, Point, Rect, TOLERANCE, flatten};

/// Of more pieces, none is taken for a hole in another.
const MOST_PIECES: usize = 256;

/// A closed piece of an outline.
struct ClosedPiece {
    /// Below 0 where it runs the other way round.
    area: f64,
    length: f64,
    bounds: Rect,
}

/// That of the broadest piece of a shape, in millimetres: each is as broad as the rectangle of its area and outline. So a line is
/// as broad as it is drawn, straight or bent, also where only its outline is there.
pub fn breadth(path: &Path, rule: FillRule) -> f64 {
    let pieces = pieces(path);
    let outer = |at: usize| if pieces.len() > MOST_PIECES { None } else { around(&pieces, at, rule) };
    let outers: Vec<Option<usize>> = (0..pieces.len()).map(outer).collect();
    let mut all: Vec<(f64, f64)> = pieces.iter().map(|piece| (piece.area.abs(), piece.length)).collect();
    for (at, outer) in outers.iter().enumerate() {
        if let Some(outer) = *outer {
            all[outer].0 -= pieces[at].area.abs();
            all[outer].1 += pieces[at].length;
        }
    }
    let own = all.into_iter().zip(outers).filter(|(_, outer)| outer.is_none());
    own.map(|((area, length), _)| as_rectangle(area, length)).fold(0.0, f64::max)
}

/// The shorter side of the rectangle that has this area and outline; a rounder shape counts as a square.
fn as_rectangle(area: f64, length: f64) -> f64 {
    let half = length / 2.0;
    (half - (half * half - 4.0 * area.max(0.0)).max(0.0).sqrt()) / 2.0
}

/// The smallest piece in which another is a hole.
fn around(pieces: &[ClosedPiece], at: usize, rule: FillRule) -> Option<usize> {
    let hole = &pieces[at];
    let holds = |piece: &ClosedPiece| {
        piece.area.abs() > hole.area.abs()
            && piece.bounds.contains_rect(hole.bounds)
            && (rule == FillRule::EvenOdd || (piece.area < 0.0) != (hole.area < 0.0))
    };
    let holding = pieces.iter().enumerate().filter(|(_, piece)| holds(piece));
    holding.min_by(|(_, one), (_, other)| one.area.abs().total_cmp(&other.area.abs())).map(|(at, _)| at)
}

fn pieces(path: &Path) -> Vec<ClosedPiece> {
    let mut pieces = Vec::new();
    let mut points: Vec<Point> = Vec::new();
    flatten(path, TOLERANCE, |element| match element {
        PathEl::MoveTo(to) => {
            pieces.extend(piece(&points));
            points.clear();
            points.push(to);
        }
        PathEl::LineTo(to) => points.push(to),
        PathEl::ClosePath => {
            let start = points.first().copied();
            pieces.extend(piece(&points));
            points.clear();
            points.extend(start);
        }
        // There are no curves left.
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    pieces.extend(piece(&points));
    pieces
}

/// Filled, it is closed.
fn piece(points: &[Point]) -> Option<ClosedPiece> {
    let (first, last) = (*points.first()?, *points.last()?);
    let sides = || points.windows(2).map(|pair| (pair[0], pair[1])).chain([(last, first)]);
    let twice: f64 = sides().map(|(from, to)| (from - first).cross(to - first)).sum();
    let length: f64 = sides().map(|(from, to)| from.distance(to)).sum();
    let bounds = points.iter().fold(Rect::from_points(first, first), |bounds, point| bounds.union_pt(*point));
    (twice != 0.0).then_some(ClosedPiece { area: twice / 2.0, length, bounds })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Affine, Line};

    fn of(data: &str) -> f64 {
        breadth(&Path::from_svg(data).expect("reads"), FillRule::NonZero)
    }

    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() < 0.01 * expected, "{found} for {expected}");
    }

    #[test]
    fn a_rectangle_is_as_broad_as_its_shorter_side() {
        near(of("M0 0H30V.3H0Z"), 0.3);
        near(of("M0 0H.3V30H0"), 0.3);
        near(of("M5 5h4v4h-4z"), 4.0);
        near(breadth(&(Affine::rotate(0.7) * Path::from_svg("M0 0H30V.3H0Z").expect("reads")), FillRule::NonZero), 0.3);
        assert!(of("M0 0L9 9").abs() < 1e-9 && of("").abs() < 1e-9);
    }

    /// The outlines of lines, as the curve library draws them.
    #[test]
    fn the_outline_of_a_line_is_as_broad_as_the_line() {
        for data in ["M0 0C10 30 20 -30 30 0", "M0 0L20 3L40 0", "M20 0A20 20 0 1 1 -20 0A20 20 0 1 1 20 0Z"] {
            let line = Path::from_svg(data).expect("reads");
            let outline = Line::new(0.4).outline(&line, 1e-3);
            let found = breadth(&outline, FillRule::NonZero);
            assert!((0.38..0.42).contains(&found), "{data}: {found}");
        }
    }

    /// One broad piece among fine ones is broad, whichever way round it runs.
    #[test]
    fn the_broadest_piece_counts() {
        near(of("M0 0H30V.3H0ZM0 10H9V19H0Z"), 9.0);
        near(of("M0 0H9V9H0ZM20 0V9H29V0Z"), 9.0);
        let frame = "M0 0H20V20H0ZM1 1H19V19H1Z";
        near(of(frame), 20.0);
        let found = breadth(&Path::from_svg(frame).expect("reads"), FillRule::EvenOdd);
        assert!((0.95..1.05).contains(&found), "{found}");
    }
}
