//! Axis: one way in which a variable font can be drawn otherwise, and a place on it.

/// An axis of a variable font, in user coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FontAxis {
    pub tag: [u8; 4],
    pub least: f32,
    pub usual: f32,
    pub most: f32,
}

/// An axis by its tag, and a place on it.
pub type AxisPlace = ([u8; 4], f32);
