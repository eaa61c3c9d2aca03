//! Press settings: what a cover chose of its press file.

use crate::ground::Packing;
use crate::scene::{PressStandard, X4};

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PressSettings {
    pub standard: &'static PressStandard,
    /// Pictures with more pixels per inch are scaled down to so many; `None` keeps every pixel.
    pub finest: Option<f64>,
    /// Pictures are JPEGs of this quality; `None` keeps what they print to the bit.
    pub jpeg: Option<u8>,
    /// Time is taken for the fewest bytes.
    pub packing: Packing,
}

/// Half as much again as the 300 that a press can show. Common practice.
pub const USUAL_FINEST: &str = "450";

impl Default for PressSettings {
    fn default() -> PressSettings {
        PressSettings { standard: &X4, finest: USUAL_FINEST.parse().ok(), jpeg: None, packing: Packing::default() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_resolution_is_the_one_that_the_manual_names() {
        assert_eq!(PressSettings::default().finest, Some(450.0));
    }
}
