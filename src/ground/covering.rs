//! Covering: a path without the parts that enclose nothing. Filled, they would print all the same: in PDF a fill paints every
//! pixel that its shape touches (ISO 32000-2, 10.7.4), so a line of two points would leave a hairline.

use crate::ground::{Path, PathEl, Point};

/// Millimetres: what is thinner cannot be told from a line in a press file, whose numbers have four decimals of a point.
const THINNEST: f64 = 3e-5;

/// What a fill covers; a path of nothing where it covers nothing.
pub fn covering(path: &Path) -> Path {
    let parts = path.elements().chunk_by(|_, next| !matches!(next, PathEl::MoveTo(_)));
    Path::from_vec(parts.filter(|part| !is_bare(part)).flatten().copied().collect())
}

/// Whether all of it lies in one line, or it goes back the way it came.
fn is_bare(part: &[PathEl]) -> bool {
    let (mut points, mut steps): (Vec<Point>, Vec<usize>) = (Vec::new(), Vec::new());
    // A fill closes what is open.
    for element in part.iter().chain([&PathEl::ClosePath]) {
        let before = points.len();
        match *element {
            PathEl::MoveTo(to) | PathEl::LineTo(to) => points.push(to),
            PathEl::QuadTo(by, to) => points.extend([by, to]),
            PathEl::CurveTo(one, two, to) => points.extend([one, two, to]),
            PathEl::ClosePath => match points[..] {
                [start, .., last] if !is_near(start, last) => points.push(start),
                _ => continue,
            },
        }
        steps.push(points.len() - before);
    }
    let Some((start, ways)) = points.first().zip(steps.get(1..)) else { return true };
    lie_in_line(*start, &points) || (reads_back(ways, |a, b| a == b) && reads_back(&points, |a, b| is_near(*a, *b)))
}

fn lie_in_line(start: Point, points: &[Point]) -> bool {
    let far = points.iter().map(|point| *point - start).max_by(|a, b| a.hypot2().total_cmp(&b.hypot2()));
    let Some(far) = far.filter(|far| far.hypot() > THINNEST) else { return true };
    points.iter().all(|point| (*point - start).cross(far).abs() <= THINNEST * far.hypot())
}

fn is_near(one: Point, other: Point) -> bool {
    one.distance(other) <= THINNEST
}

fn reads_back<T>(all: &[T], is_same: impl Fn(&T, &T) -> bool) -> bool {
    all.iter().zip(all.iter().rev()).all(|(one, other)| is_same(one, other))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_cover_nothing_and_slivers_do() {
        let left = |data: &str| covering(&Path::from_svg(data).expect("path data")).to_svg();
        let bare = [
            "M1 1L9 9",
            "M1 1L9 9Z",
            "M1 1",
            "M1 1Z",
            "M0 0L3 3L6 6L2 2Z",
            "M0 0C1 1 2 2 3 3",
            "M0 0L9 0L9 9L9 0",
            "M0 0L9 0L9 9L9 0Z",
            "M0 0L9 0L9 9L9 0L0 0Z",
            "M0 0C3 5 6 5 9 0C6 5 3 5 0 0Z",
            "M0 0L5 0M5 0L0 0",
        ];
        for data in bare {
            assert_eq!(left(data), "", "{data}");
        }
        let whole = [
            "M0 0L9 0L9 0.01Z",
            "M0 0L9 0L9 9",
            "M0 0C3 5 6 5 9 0",
            "M0 0C3 5 6 5 9 0Z",
            "M0 0C3 5 6 5 9 0L6 5L3 5L0 0",
            "M0 0L9 9L9 0L0 9Z",
            "M0 0L9 0L9 9L0 9L0 0Z",
        ];
        for data in whole {
            assert_eq!(left(data), Path::from_svg(data).expect("path data").to_svg(), "{data}");
        }
        // Every part counts by itself.
        assert_eq!(left("M1 1L9 9M0 0L9 0L9 9Z M4 4L5 4"), "M0,0 L9,0 L9,9 Z");
    }
}
