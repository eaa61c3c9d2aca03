//! Area: where something stands, in millimetres from the upper left corner of the trim, to the micrometre.

use crate::ground::Rect;
use serde::{Deserialize, Serialize};

/// Millimetres from the upper left corner of the trim.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Area {
    pub left: f64,
    pub top: f64,
    pub width: f64,
    pub height: f64,
}

impl Area {
    pub fn right(&self) -> f64 {
        self.left + self.width
    }

    pub fn bottom(&self) -> f64 {
        self.top + self.height
    }
}

pub fn area(rect: Rect) -> Area {
    let [left, top, width, height] = [rect.x0, rect.y0, rect.width(), rect.height()].map(round);
    Area { left, top, width, height }
}

/// To the micrometre; a number that is none becomes 0, for JSON has no word for it.
pub fn round(value: f64) -> f64 {
    if value.is_finite() { (value * 1000.0).round() / 1000.0 + 0.0 } else { 0.0 }
}
