//! Room: the space that words may take.

use crate::typeset::holes::Holes;

/// Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room<'a> {
    pub width: f64,
    /// The width is the most there is: lines are aligned with the widest of them, not with the room.
    pub close: bool,
    /// Without a height the words take what they need.
    pub height: Option<f64>,
    pub lines: Option<usize>,
    /// What the lines run round.
    pub holes: Option<&'a Holes>,
}
