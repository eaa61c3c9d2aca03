//! How far a line reaches beyond its path: half its width, further at sharp corners and at square ends.

use crate::ground::{Cap, Join, Line, Path, PathEl, Point, Rect, Shape, Vec2};

/// Ways shorter than this, in millimetres, have no direction.
const SHORTEST: f64 = 1e-9;

impl Line {
    /// The box around all that the line covers; `None` when it covers nothing.
    pub fn bounds(&self, path: &Path) -> Option<Rect> {
        if path.elements().is_empty() || self.width.is_nan() || self.width <= 0.0 {
            return None;
        }
        // A square end reaches by the diagonal of its square.
        let reach = self.width / 2.0 * if self.cap == Cap::Square { std::f64::consts::SQRT_2 } else { 1.0 };
        let mut bounds = path.bounding_box().inflate(reach, reach);
        if self.join == Join::Miter {
            corners(path, |corner, arriving, leaving| {
                bounds = bounds.union_pt(corner + self.tip(arriving, leaving));
            });
        }
        Some(bounds)
    }

    /// From a corner to the tip of its miter; directions have a length of 1.
    fn tip(&self, arriving: Vec2, leaving: Vec2) -> Vec2 {
        let outwards = arriving - leaving;
        // 1 over the sine of half the corner's angle (ISO 32000, 8.4.3.5), by the turn that it leaves to a half circle.
        let ratio = (2.0 / (1.0 + arriving.dot(leaving)).max(0.0)).sqrt();
        if outwards.hypot() < SHORTEST || ratio > self.miter_limit.max(1.0) * (1.0 + 1e-6) {
            return Vec2::ZERO;
        }
        outwards.normalize() * (ratio * self.width / 2.0)
    }
}

/// Calls `visit` for every corner: where it is, how the path arrives there and how it leaves.
fn corners(path: &Path, mut visit: impl FnMut(Point, Vec2, Vec2)) {
    let (mut start, mut here) = (Point::ZERO, Point::ZERO);
    let (mut first, mut last): (Option<Vec2>, Option<Vec2>) = (None, None);
    for element in path.elements() {
        let points = match *element {
            PathEl::MoveTo(to) => {
                (start, here, first, last) = (to, to, None, None);
                continue;
            }
            PathEl::LineTo(to) => [here, here, to, to],
            PathEl::QuadTo(by, to) => [here, by, by, to],
            PathEl::CurveTo(one, two, to) => [here, one, two, to],
            PathEl::ClosePath => [here, here, start, start],
        };
        let [from, one, two, to] = points;
        let leaving = direction([one - from, two - from, to - from]);
        let arriving = direction([to - two, to - one, to - from]);
        if let (Some(leaving), Some(arriving)) = (leaving, arriving) {
            if let Some(before) = last {
                visit(from, before, leaving);
            }
            (first, last) = (first.or(Some(leaving)), Some(arriving));
        }
        here = to;
        if *element == PathEl::ClosePath {
            if let (Some(arriving), Some(leaving)) = (last, first) {
                visit(start, arriving, leaving);
            }
            (first, last) = (None, None);
        }
    }
}

/// The first of these ways that leads anywhere.
fn direction(ways: [Vec2; 3]) -> Option<Vec2> {
    ways.into_iter().find(|way| way.hypot() > SHORTEST).map(Vec2::normalize)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn path(svg: &str) -> Path {
        Path::from_svg(svg).expect("a path")
    }

    #[test]
    fn a_miter_reaches_as_far_as_its_angle_says() {
        // Two legs that rise 40 over 2: half the angle is atan(1/20), the tip 1 / sin = 20.02 half widths away.
        let line = Line { miter_limit: 30.0, ..Line::new(2.0) };
        let spike = path("M0 40L2 0L4 40");
        let bounds = line.bounds(&spike).expect("it prints");
        assert!((bounds.y0 + 20.025).abs() < 0.001, "{bounds:?}");
        let blunt = Line::new(2.0).bounds(&spike).expect("it prints");
        assert!((blunt.y0 + 1.0).abs() < 1e-9, "beyond its limit a corner is cut off: {blunt:?}");
        // A closed path has a corner where it began.
        let closed = line.bounds(&path("M2 0L4 40H0Z")).expect("it prints");
        assert!((closed.y0 + 20.025).abs() < 0.001, "{closed:?}");
        assert!(Line::new(0.0).bounds(&spike).is_none() && line.bounds(&Path::new()).is_none());
    }

    proptest! {
        /// The curve library strokes the same lines by itself.
        #[test]
        fn nothing_that_a_line_covers_lies_outside(
            points in prop::collection::vec((0.0..50.0_f64, 0.0..50.0_f64), 2..9),
            width in 0.1..8.0_f64,
            limit in 1.0..40.0_f64,
            closed in any::<bool>(),
            square in any::<bool>(),
        ) {
            let mut path = Path::new();
            path.move_to(points[0]);
            for chunk in points[1..].chunks(3) {
                match chunk {
                    [one, two, to] => path.curve_to(*one, *two, *to),
                    [by, to] => path.quad_to(*by, *to),
                    [to, ..] => path.line_to(*to),
                    [] => {}
                }
            }
            if closed {
                path.close_path();
            }
            let cap = if square { Cap::Square } else { Cap::Butt };
            let line = Line { miter_limit: limit, cap, ..Line::new(width) };
            let covered = line.outline(&path, 1e-3).bounding_box();
            let bounds = line.bounds(&path).expect("it prints").inflate(0.01, 0.01);
            prop_assert!(bounds.union(covered) == bounds, "{bounds:?} does not hold {covered:?}");
        }
    }
}
