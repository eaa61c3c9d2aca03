//! How a spot ink changes what lies under it, on a screen.
//!
//! A mixed ink and a varnish are filters. A foil hides the paper and what is printed there, whatever the plates are called,
//! and shines where the light strikes it; a varnish lies over the foil.

use crate::ground::{Finish, Spot};
use crate::raster::layer::{times, toward};
use crate::raster::plate_shares::{PROCESS, byte};
use crate::raster::window::Window;

/// Every so many millimetres the light strikes a foil, along a slope of so much to the side a millimetre down.
const STRIKE: f64 = 110.0;
const SLOPE: f64 = 0.45;
/// How much of a foil's ink the light takes at its brightest.
const GLEAM: f64 = 0.38;

pub enum SpotProof {
    /// For every tint, what is let through of each process ink's colour.
    Ink(Box<[[u8; 256]; PROCESS]>),
    /// Its look, and for the light that plays on it from place to place, where its pixels lie and how many there are to the
    /// millimetre.
    Foil([f64; PROCESS], Option<(Window, f64)>),
    /// As an ink, over the foils.
    Coat(Box<[[u8; 256]; PROCESS]>),
}

impl SpotProof {
    pub fn new(spot: &Spot, window: Window, scale: f64) -> SpotProof {
        if spot.is_opaque() {
            return SpotProof::Foil(spot.look, Some((window, scale)));
        }
        // Nobody sees where a sheet was cut, nor white ink on white paper.
        let seen = !matches!(spot.finish, Some(Finish::DieLine | Finish::White));
        let look = if seen { spot.look } else { [0.0; PROCESS] };
        let passed = |ink: f64| std::array::from_fn(|tint| byte(1.0 - ink * tint as f64 / 255.0));
        let passed = Box::new(look.map(passed));
        if spot.finish.is_some() { SpotProof::Coat(passed) } else { SpotProof::Ink(passed) }
    }

    /// The order in which they lie on the paper.
    pub fn level(&self) -> u8 {
        match self {
            SpotProof::Ink(_) => 0,
            SpotProof::Foil(..) => 1,
            SpotProof::Coat(_) => 2,
        }
    }

    /// Without the light that plays on a foil; `None` for what is clear.
    pub fn plain(spot: &Spot, window: Window) -> Option<SpotProof> {
        match spot.finish {
            Some(Finish::Foil) => Some(SpotProof::Foil(spot.look, None)),
            Some(_) => None,
            None => Some(SpotProof::new(spot, window, 1.0)),
        }
    }

    pub fn over(&self, under: [u8; PROCESS], tint: u8, pixel: usize) -> [u8; PROCESS] {
        match self {
            SpotProof::Ink(passed) | SpotProof::Coat(passed) => {
                std::array::from_fn(|ink| 255 - times(255 - under[ink], passed[ink][usize::from(tint)]))
            }
            SpotProof::Foil(look, light) => {
                let left = light.map_or(1.0, |(window, scale)| 1.0 - GLEAM * gleam(window, scale, pixel));
                std::array::from_fn(|ink| toward(under[ink], byte(look[ink] * left), tint))
            }
        }
    }
}

/// How strongly the light strikes a foil: 1 at the heart of a broad soft band.
fn gleam(window: Window, scale: f64, pixel: usize) -> f64 {
    let x = window.x as f64 + (pixel % window.width.max(1)) as f64;
    let y = window.y as f64 + (pixel / window.width.max(1)) as f64;
    let phase = ((x + y * SLOPE) / (scale * STRIKE)).fract();
    let off = 2.0 * phase - 1.0;
    let near = 1.0 - off * off;
    near * near * near * near
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::raster::trial::spot;

    const HERE: Window = Window { x: 0, y: 0, width: 1, height: 1 };

    #[test]
    fn inks_filter_and_foils_hide() {
        let navy = [255, 170, 60, 80];
        let mixed = SpotProof::new(&spot("Red", false), HERE, 1.0);
        // 1 - (1 - 170/255)(1 - 0.6) = 0.8667; 1 - (1 - 60/255)(1 - 0.9) = 0.9235; to the nearest byte but one.
        let shown = mixed.over(navy, 255, 0);
        assert!(shown.iter().zip([255_u8, 221, 235, 80]).all(|(got, wanted)| got.abs_diff(wanted) <= 1), "{shown:?}");
        // At the edge of a band a foil is its look alone: 0 60 90 0 percent.
        assert_eq!(SpotProof::new(&spot("Foil", true), HERE, 1.0).over(navy, 255, 0), [0, 153, 230, 0]);
        let varnish =
            Spot { look: [0.0, 0.0, 0.1, 0.0], finish: Some(Finish::Varnish), ..(*spot("Varnish", true)).clone() };
        assert_eq!(SpotProof::new(&varnish, HERE, 1.0).over(navy, 255, 0)[..2], navy[..2]);
    }
}
