//! Raster context: what all marks of one drawing share.

use crate::assets::{Darkroom, Profile};
use crate::ground::{Affine, Rect, Spot};
use std::sync::Arc;

pub struct RasterContext<'a> {
    pub to_pixels: Affine,
    pub spots: &'a [Arc<Spot>],
    pub profile: &'a Profile,
    pub darkroom: &'a Darkroom,
    /// Whether it is drawn to be seen, and not to be counted plate by plate.
    pub for_the_eye: bool,
    /// The tiles to be drawn; marks outside are not made ready.
    pub tiles: Vec<Rect>,
}
