//! Darkness: a picture as the share of one ink that each pixel takes.

use crate::assets::{Model, Picture};
use std::borrow::Cow;

impl Picture {
    /// Its alpha or, without one, how dark each pixel is; 255 takes the ink whole.
    pub fn darkness(&self) -> Cow<'_, [u8]> {
        if let Some(alpha) = self.alpha() {
            return Cow::Borrowed(alpha);
        }
        let pixels = self.pixels();
        match self.model() {
            Model::Grey => pixels.samples.iter().map(|grey| 255 - grey).collect(),
            Model::Rgb => pixels.samples.as_chunks::<3>().0.iter().map(|rgb| 255 - luma(*rgb)).collect(),
            Model::Cmyk => pixels.samples.as_chunks::<4>().0.iter().map(|inks| dark(*inks)).collect(),
        }
    }
}

/// Luma of Rec. 601, as JPEG files carry it.
fn luma([r, g, b]: [u8; 3]) -> u8 {
    ((299 * u32::from(r) + 587 * u32::from(g) + 114 * u32::from(b) + 500) / 1000) as u8
}

/// Cyan keeps red back, and so on.
fn dark([c, m, y, k]: [u8; 4]) -> u8 {
    let light = |ink: u8| 255 - ink.saturating_add(k);
    255 - luma([light(c), light(m), light(y)])
}
