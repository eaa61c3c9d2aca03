//! Points, rectangles, transforms and paths: always in millimetres on the sheet, y down.

pub use kurbo::{
    Affine, BezPath as Path, Cap, Ellipse, Join, ParamCurve, PathEl, Point, Rect, RoundedRect, Shape, Vec2,
};

/// How finely curves are flattened wherever they must be, in millimetres.
pub const TOLERANCE: f64 = 0.01;
const MOST_DASHES: f64 = 1e6;
const SHORTEST_DASH: f64 = 1e-4;

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

    /// The outline of what the line covers; dashes too short to see, or too many to count, are drawn as a whole line.
    pub fn outline(&self, path: &Path, tolerance: f64) -> Path {
        let mut style = self.kurbo();
        let reach = path.control_box();
        let longest = (reach.width() + reach.height()) * path.elements().len() as f64;
        let round = self.dashes.iter().sum::<f64>();
        let odd = self.dashes.iter().any(|dash| dash.is_nan() || *dash < 0.0) || !self.dash_offset.is_finite();
        if odd || round < TOLERANCE || longest / round > MOST_DASHES {
            style.dash_pattern.clear();
        }
        // The curve library passes over dashes without length, which show their caps where these have any (SVG 2, 13.5.6).
        if self.cap != Cap::Butt {
            if self.dashes.len() % 2 == 1 {
                style.dash_pattern.extend(self.dashes.iter().copied());
            }
            style.dash_pattern.iter_mut().step_by(2).for_each(|dash| *dash = dash.max(SHORTEST_DASH));
        }
        kurbo::stroke(path.elements().iter().copied(), &style, &kurbo::StrokeOpts::default(), tolerance)
    }
}

/// A path's straight pieces, curves cut so finely that none strays from its chord by more than the tolerance.
pub fn flatten(path: &Path, tolerance: f64, piece: impl FnMut(PathEl)) {
    kurbo::flatten(path.elements().iter().copied(), tolerance, piece);
}

/// From the unit square to a place.
pub fn unit_in(place: Rect) -> Affine {
    Affine::new([place.width(), 0.0, 0.0, place.height(), place.x0, place.y0])
}

/// A rectangle as a closed path.
pub fn rect_path(rect: Rect) -> Path {
    rect.to_path(TOLERANCE)
}
