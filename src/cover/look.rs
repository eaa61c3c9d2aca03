//! Look: how an element as a whole lies on the sheet: turned, cut, thinned, mixed, above or below others.

use crate::cover::{Axis, Side};
use crate::ground::{Affine, Blend, Ellipse, Path, Point, Rect, Shape, Spanned, TOLERANCE, rect_path};

#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// Degrees clockwise.
    pub turn: f64,
    /// What the turn leaves in its place, as shares of the frame.
    pub pivot: (f64, f64),
    /// 0 to 1.
    pub opacity: f64,
    pub blend: Blend,
    pub clip: Option<Clip>,
    pub order: Option<Order>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Clip {
    Frame,
    Oval,
    /// From the frame's upper left corner, in millimetres.
    Path(Path),
}

/// A place in the order of printing that is not the file's: right over another element, or right under it.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    pub over: bool,
    pub name: Spanned<String>,
    /// The panel in which the other one stands.
    pub panel: Option<Spanned<String>>,
}

impl Default for Look {
    fn default() -> Look {
        Look { turn: 0.0, pivot: (0.5, 0.5), opacity: 1.0, blend: Blend::Normal, clip: None, order: None }
    }
}

impl Look {
    /// A turn by a quarter: the content's width lies along the frame's height.
    pub fn quarter(&self) -> bool {
        (self.turn.abs() - 90.0).abs() < 1e-9 || (self.turn.abs() - 270.0).abs() < 1e-9
    }

    /// The axis across the lines of words, and the side to which the heads of their letters point.
    pub fn head(&self) -> (Axis, Side) {
        match self.quarter() {
            false => (Axis::Y, Side::Start),
            true if (self.turn.rem_euclid(360.0) - 90.0).abs() < 1e-9 => (Axis::X, Side::End),
            true => (Axis::X, Side::Start),
        }
    }

    /// The frame that the content sees, and the way from there to the sheet.
    pub fn turned(&self, frame: Rect) -> (Rect, Affine) {
        if self.turn == 0.0 {
            return (frame, Affine::IDENTITY);
        }
        if self.quarter() {
            let local = Rect::from_center_size(frame.center(), (frame.height(), frame.width()));
            return (local, Affine::rotate_about(self.turn.to_radians(), frame.center()));
        }
        let pivot = Point::new(frame.x0 + frame.width() * self.pivot.0, frame.y0 + frame.height() * self.pivot.1);
        (frame, Affine::rotate_about(self.turn.to_radians(), pivot))
    }

    /// The path to cut to, in the content's space.
    pub fn clip_path(&self, frame: Rect) -> Option<Path> {
        Some(match self.clip.as_ref()? {
            Clip::Frame => rect_path(frame),
            Clip::Oval => oval(frame),
            Clip::Path(path) => Affine::translate(frame.origin().to_vec2()) * path.clone(),
        })
    }

    /// Whether marks must be composed apart before they meet the sheet.
    pub fn grouped(&self) -> bool {
        self.opacity < 1.0 || self.blend != Blend::Normal || self.clip.is_some()
    }
}

/// The largest ellipse in a frame.
pub fn oval(frame: Rect) -> Path {
    Ellipse::from_rect(frame).to_path(TOLERANCE)
}
