//! Sink: where the font reader draws a glyph: in font units, y up.

use crate::ground::{Path, PathEl, Point};
use skrifa::PathSink;

/// Steps of a glyph's outline; a longer one is none, and nothing of it is kept.
const STEPS: usize = 100_000;

#[derive(Default)]
pub struct Sink(Path);

impl Sink {
    /// `None` where it is too long, or lies nowhere.
    pub fn outline(self) -> Option<Path> {
        (self.0.elements().len() <= STEPS && self.0.is_finite()).then_some(self.0)
    }

    fn step(&mut self, step: PathEl) {
        if self.0.elements().len() <= STEPS {
            self.0.push(step);
        }
    }
}

impl PathSink for Sink {
    fn move_to(&mut self, x: f32, y: f32) {
        self.step(PathEl::MoveTo(point(x, y)));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.step(PathEl::LineTo(point(x, y)));
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.step(PathEl::QuadTo(point(cx, cy), point(x, y)));
    }

    fn curve_to(&mut self, cx0: f32, cy0: f32, cx1: f32, cy1: f32, x: f32, y: f32) {
        self.step(PathEl::CurveTo(point(cx0, cy0), point(cx1, cy1), point(x, y)));
    }

    fn close(&mut self) {
        self.step(PathEl::ClosePath);
    }
}

fn point(x: f32, y: f32) -> Point {
    Point::new(f64::from(x), f64::from(y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_glyph_without_end_is_none() {
        let drawn = |steps: usize| {
            let mut sink = Sink::default();
            sink.move_to(0.0, 0.0);
            (1..steps).for_each(|step| sink.line_to(step as f32, 1.0));
            sink
        };
        assert!(drawn(STEPS).outline().is_some());
        let endless = drawn(3 * STEPS);
        assert!(endless.0.elements().len() <= STEPS + 1 && endless.outline().is_none());
        assert!(drawn(2).outline().is_some());
    }
}
