//! Optical sizes: which drawing of a variable font suits a size in points.

use crate::assets::Font;
use crate::typeset::style::Style;

pub const OPTICAL_SIZE: [u8; 4] = *b"opsz";

/// The place on the axis of optical sizes for a size in points, as OpenType counts it (registered axis `opsz`); in steps,
/// so that sizes close to each other share one drawing.
pub fn optical_size(points: f64) -> f32 {
    let step = if points < 40.0 { 0.5 } else { 4.0 };
    ((points / step).round() * step).clamp(1.0, 2000.0) as f32
}

/// Whether the drawing of a font follows the size of type.
pub fn follows_size(font: &Font, style: &Style) -> bool {
    let stated = style.axes.iter().any(|(tag, _)| *tag == OPTICAL_SIZE);
    !stated && font.axes().iter().any(|axis| axis.tag == OPTICAL_SIZE)
}
