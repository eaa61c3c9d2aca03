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
/// as broad as it is drawn, straight or bent, also where only its outline is there. What is `enough` is not measured further:
/// drawings have thousands of shapes.
pub fn breadth(path: &Path, rule: FillRule, enough: f64) -> f64 {
    let flat = closed(path);
    let outlines = outlines(&flat);
    let pieces: Vec<ClosedPiece> = outlines.iter().filter_map(|points| piece(points)).collect();
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
    let by_area = own.map(|((area, length), _)| as_rectangle(area, length)).fold(0.0, f64::max);
    if by_area >= enough {
        return by_area;
    }
    let sides: Vec<(Point, Point)> =
        outlines.iter().flat_map(|points| sides(points)).filter(|(from, to)| from != to).collect();
    by_circle(flat.control_box(), &sides, rule, by_area, enough)
}

/// The diameter of the largest circle round one of some points that lies within the shape: outlines that cross themselves
/// have less area than they cover, and ragged ones much outline. At least `known`; what is `enough` need not be measured.
fn by_circle(bounds: Rect, sides: &[(Point, Point)], rule: FillRule, known: f64, enough: f64) -> f64 {
    if sides.is_empty() || bounds.width().min(bounds.height()) <= known * (1.0 + SLACK) {
        return known;
    }
    let points = (MOST_COMPARED / sides.len()).isqrt().min(MOST_POINTS);
    let share = |at: usize| (at as f64 + 0.5) / points as f64;
    // On a line without area, a circle is as small as its rounding.
    let mut least = known.max(TOLERANCE);
    for row in 0..points {
        let y = bounds.y0 + bounds.height() * share(row);
        let crossed = crossed(sides, y);
        for column in 0..points {
            let place = Point::new(bounds.x0 + bounds.width() * share(column), y);
            let winding: i32 = crossed.iter().filter(|(x, _)| *x > place.x).map(|(_, turns)| turns).sum();
            let is_inside = if rule == FillRule::EvenOdd { winding % 2 != 0 } else { winding != 0 };
            // Mostly one of the first sides is nearer.
            let near = least * least / 4.0;
            if is_inside && sides.iter().all(|side| off(place, *side) > near) {
                let nearest = sides.iter().map(|side| off(place, *side)).fold(f64::INFINITY, f64::min);
                least = 2.0 * nearest.sqrt();
                if least >= enough {
                    return least;
                }
            }
        }
    }
    if least > TOLERANCE { least } else { known }
}

/// Where sides cross a height, and which way.
fn crossed(sides: &[(Point, Point)], y: f64) -> Vec<(f64, i32)> {
    let crossing = sides.iter().filter(|(from, to)| (from.y <= y) != (to.y <= y));
    crossing
        .map(|(from, to)| {
            let x = from.x + (to.x - from.x) * ((y - from.y) / (to.y - from.y));
            (x, if to.y > from.y { 1 } else { -1 })
        })
        .collect()
}

/// A path's straight pieces, each closed as it is filled.
fn closed(path: &Path) -> Path {
    let mut flat = Path::new();
    flatten(path, TOLERANCE, |element| {
        if matches!(element, PathEl::MoveTo(_)) && !flat.elements().is_empty() {
            flat.close_path();
        }
        flat.push(element);
    });
    if !flat.elements().is_empty() {
        flat.close_path();
    }
    flat
}

/// The corners of each piece.
fn outlines(flat: &Path) -> Vec<Vec<Point>> {
    let mut outlines: Vec<Vec<Point>> = Vec::new();
    for element in flat.elements() {
        match (element, outlines.last_mut()) {
            (PathEl::MoveTo(to), _) => outlines.push(vec![*to]),
            (PathEl::LineTo(to), Some(points)) => points.push(*to),
            // There are no curves left, and all are closed.
            _ => {}
        }
    }
    outlines
}

/// Those of a piece that is closed, as it is filled.
fn sides(points: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    let last = points.last().zip(points.first()).map(|(last, first)| (*last, *first));
    points.windows(2).map(|pair| (pair[0], pair[1])).chain(last)
}

/// The square of how far a point is off a side.
fn off(place: Point, (from, to): (Point, Point)) -> f64 {
    let side = to - from;
    let along = ((place - from).dot(side) / side.hypot2()).clamp(0.0, 1.0);
    place.distance_squared(from + side * along)
}

/// Points along each side of a shape, and points by sides, that are compared.
const MOST_POINTS: usize = 24;
const MOST_COMPARED: usize = 1 << 17;
/// Breadths are the same within this share.
const SLACK: f64 = 0.01;

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

fn piece(points: &[Point]) -> Option<ClosedPiece> {
    let first = *points.first()?;
    let twice: f64 = sides(points).map(|(from, to)| (from - first).cross(to - first)).sum();
    let length: f64 = sides(points).map(|(from, to)| from.distance(to)).sum();
    let bounds = points.iter().fold(Rect::from_points(first, first), |bounds, point| bounds.union_pt(*point));
    (twice != 0.0).then_some(ClosedPiece { area: twice / 2.0, length, bounds })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Affine, Line};

    fn of(data: &str) -> f64 {
        breadth(&Path::from_svg(data).expect("reads"), FillRule::NonZero, f64::INFINITY)
    }

    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() < 0.01 * expected, "{found} for {expected}");
    }

    #[test]
    fn a_rectangle_is_as_broad_as_its_shorter_side() {
        near(of("M0 0H30V.3H0Z"), 0.3);
        near(of("M0 0H.3V30H0"), 0.3);
        near(of("M5 5h4v4h-4z"), 4.0);
        let turned = Affine::rotate(0.7) * Path::from_svg("M0 0H30V.3H0Z").expect("reads");
        near(breadth(&turned, FillRule::NonZero, f64::INFINITY), 0.3);
        assert!(of("M0 0L9 9").abs() < 1e-9 && of("").abs() < 1e-9);
    }

    /// Two triangles whose areas cancel, and a disc with a long ragged edge: both are broad somewhere.
    #[test]
    fn outlines_that_cross_themselves_or_are_ragged_are_as_broad_as_their_inside() {
        assert!(of("M0 0L40 40L40 0L0 40Z") > 8.0);
        let mut burst = Path::new();
        burst.move_to((38.0, 0.0));
        for tooth in 1..800 {
            let (radius, angle) =
                (if tooth % 2 == 0 { 38.0 } else { 30.0 }, f64::from(tooth) * std::f64::consts::TAU / 800.0);
            burst.line_to((radius * angle.cos(), radius * angle.sin()));
        }
        burst.close_path();
        assert!(breadth(&burst, FillRule::NonZero, f64::INFINITY) > 50.0);
        let found = breadth(&burst, FillRule::NonZero, 5.0);
        assert!((5.0..50.0).contains(&found), "{found}");
    }

    /// The outlines of lines, as the curve library draws them.
    #[test]
    fn the_outline_of_a_line_is_as_broad_as_the_line() {
        for data in ["M0 0C10 30 20 -30 30 0", "M0 0L20 3L40 0", "M20 0A20 20 0 1 1 -20 0A20 20 0 1 1 20 0Z"] {
            let line = Path::from_svg(data).expect("reads");
            let outline = Line::new(0.4).outline(&line, 1e-3);
            let found = breadth(&outline, FillRule::NonZero, f64::INFINITY);
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
        let found = breadth(&Path::from_svg(frame).expect("reads"), FillRule::EvenOdd, f64::INFINITY);
        assert!((0.95..1.05).contains(&found), "{found}");
    }
}
