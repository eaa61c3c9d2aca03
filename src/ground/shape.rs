//! Points, rectangles, transforms and paths: always in millimetres on the sheet, y down.

pub use kurbo::{
    Affine, BezPath as Path, Cap, Ellipse, Join, ParamCurve, PathEl, Point, Rect, RoundedRect, RoundedRectRadii, Shape, Size,
    Vec2,
};

/// How finely curves are flattened wherever they must be, in millimetres.
pub const TOLERANCE: f64 = 0.01;

/// How a self-crossing path is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum FillRule {
    #[default]
    NonZero,
    EvenOdd,
}

/// How a line is drawn along a path. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub width: f64,
    pub cap: Cap,
    pub join: Join,
    pub miter_limit: f64,
    pub dashes: Vec<f64>,
    pub dash_offset: f64,
}

impl Line {
    pub fn new(width: f64) -> Line {
        Line { width, cap: Cap::Butt, join: Join::Miter, miter_limit: 4.0, dashes: Vec::new(), dash_offset: 0.0 }
    }

    /// The same line as the curve library wants it.
    pub fn kurbo(&self) -> kurbo::Stroke {
        kurbo::Stroke::new(self.width)
            .with_caps(self.cap)
            .with_join(self.join)
            .with_miter_limit(self.miter_limit)
            .with_dashes(self.dash_offset, self.dashes.iter().copied())
    }
}

/// A rectangle as a closed path.
pub fn rect_path(rect: Rect) -> Path {
    rect.to_path(TOLERANCE)
}
