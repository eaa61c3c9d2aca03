//! Scene to pixels, composed in ink.

use crate::assets::{Darkroom, Profile};
use crate::ground::{Rect, Spot};
use crate::scene::Scene;
use std::sync::Arc;

/// Part of a sheet, plate by plate: 8 bit, 255 is solid, row by row.
pub struct Plates {
    pub width: usize,
    pub height: usize,
    /// C, M, Y, K.
    pub process: [Vec<u8>; 4],
    pub spots: Vec<(Arc<Spot>, Vec<u8>)>,
}

/// Pixels for a screen, sRGB, 8 bit, three a pixel.
pub struct Screen {
    pub width: usize,
    pub height: usize,
    pub rgb: Vec<u8>,
}

/// Draws `area` (sheet millimetres) of a scene at `ppi` pixels per inch.
pub fn plates(scene: &Scene, area: Rect, ppi: f64, darkroom: &Darkroom) -> Plates {
    let _ = (scene, area, ppi, darkroom);
    unimplemented!()
}

impl Plates {
    /// The soft proof: how the print will look, spot inks by their look.
    pub fn screen(&self, profile: &Profile) -> Screen {
        let _ = profile;
        unimplemented!()
    }
}
