//! Along: a line that words follow, an arc, an oval or a path, and where its letters stand on it.

use crate::ground::{Affine, Path, PathEl, Point, Rect, Vec2, flatten};
use crate::scene::GlyphRun;

/// What words follow instead of a straight line.
#[derive(Clone, Debug, PartialEq)]
pub enum Along {
    /// From side to side of the frame; its middle rises so many millimetres over its ends, or hangs under them.
    Arc { rise: f64 },
    /// The oval in the frame, at its head or at its foot. The capitals stand inside it.
    Oval { foot: bool },
    /// In millimetres from the frame's upper left corner.
    Path(Path),
}

/// A line of known length.
pub struct WordLine {
    /// Points on it, and how far along it each lies.
    points: Vec<(f64, Point)>,
}

/// How finely a line is followed, in millimetres.
const FINE: f64 = 0.002;
/// Half the stretch, in ems, over which a letter's direction is found: a bend under it does not throw it about.
const REACH: f64 = 0.2;
/// The share of a quarter circle that makes it a curve: 4/3 · tan(π/8).
const QUARTER: f64 = 0.552_284_75;

impl Along {
    /// The line in a frame, for words whose capitals are so high and whose first baseline is so far under the frame's top.
    pub fn line(&self, frame: Rect, capitals: f64, baseline: f64) -> WordLine {
        WordLine::of(&match self {
            Along::Arc { rise } => arc(frame, *rise, baseline),
            Along::Oval { foot: false } => around(frame.inset(-capitals), false),
            Along::Oval { foot: true } => around(frame, true),
            Along::Path(path) => Affine::translate((frame.x0, frame.y0)) * path.clone(),
        })
    }

    /// How much higher than straight words they are, on so wide a line.
    pub fn rises(&self, width: f64) -> f64 {
        if let Along::Arc { rise } = self { rise.abs().min(width.max(0.0) / 2.0) } else { 0.0 }
    }
}

/// A part of a circle; straight where it hardly rises.
fn arc(frame: Rect, rise: f64, baseline: f64) -> Path {
    let (half, top) = ((frame.width() / 2.0).max(0.0), frame.y0 + baseline);
    // Nothing rises more than half a circle.
    let rise = rise.clamp(-half, half);
    let (ends, middle) = if rise > 0.0 { (top + rise, top) } else { (top, top - rise) };
    let mut path = Path::new();
    path.move_to((frame.x0, ends));
    if rise.abs() < 1e-3 {
        path.line_to((frame.x1, ends));
        return path;
    }
    let radius = (half * half + rise * rise) / (2.0 * rise.abs());
    let centre = Point::new(frame.center().x, if rise > 0.0 { middle + radius } else { middle - radius });
    let sweep = 2.0 * (half / radius).min(1.0).asin();
    let steps = 512;
    for step in 1..=steps {
        let angle = sweep * (f64::from(step) / f64::from(steps) - 0.5);
        let (sin, cos) = angle.sin_cos();
        path.line_to((centre.x + radius * sin, centre.y - radius * cos * rise.signum()));
    }
    path
}

/// Round an oval, from its foot over its head, or from its head under its foot.
fn around(frame: Rect, foot: bool) -> Path {
    let (centre, wide, high) = (frame.center(), frame.width() / 2.0, frame.height() / 2.0);
    let high = if foot { -high } else { high };
    let at = |x: f64, y: f64| (centre.x + x * wide, centre.y + y * high);
    let mut path = Path::new();
    path.move_to(at(0.0, 1.0));
    path.curve_to(at(-QUARTER, 1.0), at(-1.0, QUARTER), at(-1.0, 0.0));
    path.curve_to(at(-1.0, -QUARTER), at(-QUARTER, -1.0), at(0.0, -1.0));
    path.curve_to(at(QUARTER, -1.0), at(1.0, -QUARTER), at(1.0, 0.0));
    path.curve_to(at(1.0, QUARTER), at(QUARTER, 1.0), at(0.0, 1.0));
    path
}

impl WordLine {
    /// Of a path of several lines the first counts.
    fn of(path: &Path) -> WordLine {
        let mut points: Vec<(f64, Point)> = Vec::new();
        let mut lines = 0;
        flatten(path, FINE, |element| {
            let to = match element {
                PathEl::MoveTo(to) => {
                    lines += 1;
                    to
                }
                PathEl::LineTo(to) => to,
                PathEl::ClosePath => points.first().map_or(Point::ZERO, |first| first.1),
                _ => return,
            };
            if lines == 1 {
                let length = points.last().map_or(0.0, |last| last.0 + last.1.distance(to));
                points.push((length, to));
            }
        });
        points.dedup_by(|next, before| next.0 - before.0 < 1e-9);
        WordLine { points }
    }

    pub fn length(&self) -> f64 {
        self.points.last().map_or(0.0, |last| last.0)
    }

    /// The point at a distance along it; beyond its ends it goes straight on.
    fn point(&self, at: f64) -> Point {
        let after = self.points.partition_point(|point| point.0 < at).clamp(1, self.points.len().max(2) - 1);
        match (self.points.get(after - 1), self.points.get(after)) {
            (Some(a), Some(b)) => a.1 + (b.1 - a.1) * ((at - a.0) / (b.0 - a.0).max(1e-9)),
            (Some(a), None) => a.1 + Vec2::new(at, 0.0),
            _ => Point::new(at, 0.0),
        }
    }

    /// Turns the glyphs of a run, which lies straight from the line's beginning, to stand on it. A letter and its marks
    /// turn as one, about the middle of the letter's foot.
    pub fn bend(&self, run: &mut GlyphRun, straight: Affine, bent: Affine) {
        // Where the run's own space lies on the straight line.
        let shift = (straight.inverse() * run.transform).translation();
        let mut turns = vec![0.0; run.glyphs.len()];
        let mut from = 0;
        while from < run.glyphs.len() {
            let spoken = |glyph: &crate::assets::Glyph| !glyph.text.is_empty();
            let end = (from + 1..run.glyphs.len()).find(|at| spoken(&run.glyphs[*at])).unwrap_or(run.glyphs.len());
            let cluster = &mut run.glyphs[from..end];
            let start = cluster[0].x + shift.x;
            let middle = start + cluster.iter().map(|glyph| glyph.advance).sum::<f64>() / 2.0;
            let along = self.point(middle + REACH * run.size) - self.point(middle - REACH * run.size);
            let (angle, foot) = (along.atan2(), self.point(middle));
            for (glyph, turn) in cluster.iter_mut().zip(&mut turns[from..end]) {
                let place = Affine::translate(foot.to_vec2())
                    * Affine::rotate(angle)
                    * Point::new(glyph.x + shift.x - middle, glyph.y + shift.y);
                (glyph.x, glyph.y, *turn) = (place.x, place.y, angle);
            }
            from = end;
        }
        run.transform = bent;
        run.turns = turns;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The length of a circle and of a half circle; Ramanujan's second formula for an ellipse (1914).
    #[test]
    fn lines_are_as_long_as_they_should_be() {
        let turn = std::f64::consts::PI;
        let frame = Rect::new(10.0, 20.0, 50.0, 60.0);
        let circle = Along::Oval { foot: true }.line(frame, 3.0, 4.0);
        assert!((circle.length() - 40.0 * turn).abs() < 0.05, "{}", circle.length());
        let inner = Along::Oval { foot: false }.line(frame, 3.0, 4.0);
        assert!((inner.length() - 34.0 * turn).abs() < 0.05, "{}", inner.length());
        let half = Along::Arc { rise: 20.0 }.line(frame, 3.0, 4.0);
        assert!((half.length() - 20.0 * turn).abs() < 0.01, "{}", half.length());
        let (a, b) = (30.0_f64, 10.0_f64);
        let h = ((a - b) / (a + b)).powi(2);
        let round = turn * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()));
        let oval = Along::Oval { foot: true }.line(Rect::new(0.0, 0.0, 60.0, 20.0), 3.0, 4.0);
        assert!((oval.length() - round).abs() < 0.05, "{} {round}", oval.length());
    }

    /// The middle of an arc stands on the first baseline where it rises, and its ends do where it hangs.
    /// An arc rises by half its width at the most, and a frame without width is no trouble.
    #[test]
    fn an_arc_is_never_more_than_half_a_circle() {
        let frame = Rect::new(10.0, 5.0, 70.0, 40.0);
        let half = Along::Arc { rise: 30.0 }.line(frame, 0.0, 4.0);
        let more = Along::Arc { rise: 100.0 }.line(frame, 0.0, 4.0);
        assert!((half.length() - more.length()).abs() < 1e-9);
        assert!((more.length() - std::f64::consts::PI * 30.0).abs() < 0.01, "{}", more.length());
        assert!((Along::Arc { rise: 100.0 }.rises(60.0) - 30.0).abs() < 1e-9);
        Along::Arc { rise: 10.0 }.line(Rect { x0: 10.0, x1: -40.0, y0: 0.0, y1: 0.0 }, 0.0, 4.0);
    }

    #[test]
    fn an_arc_keeps_to_its_frame() {
        let frame = Rect::new(0.0, 0.0, 80.0, 30.0);
        for (rise, middle, end) in [(12.0, 5.0, 17.0), (-12.0, 17.0, 5.0), (0.0, 5.0, 5.0)] {
            let line = Along::Arc { rise }.line(frame, 3.0, 5.0);
            let at = line.point(line.length() / 2.0);
            assert!((at.x - 40.0).abs() < 0.01 && (at.y - middle).abs() < 0.01, "{rise} {at:?}");
            assert!((line.point(0.0).y - end).abs() < 0.01 && (line.point(line.length()).y - end).abs() < 0.01);
        }
        let foot = Along::Oval { foot: true }.line(frame, 3.0, 5.0);
        assert!((foot.point(foot.length() / 2.0).y - 30.0).abs() < 0.01);
        let head = Along::Oval { foot: false }.line(frame, 3.0, 5.0);
        assert!((head.point(head.length() / 2.0).y - 3.0).abs() < 0.01);
    }
}
