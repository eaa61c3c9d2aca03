//! Lightened: pictures in ink scaled down for the eye, as light as what they are means of.

use crate::assets::InkLights;
use crate::ground::Affine;
use crate::raster::resample::{Grid, resample};
use crate::raster::window::Window;
use rayon::prelude::*;

/// Whether several samples fall on one pixel.
pub fn is_reduced(from_samples: Affine) -> bool {
    let [a, b, c, d, ..] = from_samples.as_coeffs();
    a.hypot(b) < 1.0 || c.hypot(d) < 1.0
}

/// Means of process inks, thinned to the means of their light.
pub fn lighten(planes: &mut [u8], inked: &Grid<'_>, from_samples: Affine, window: Window, lights: &InkLights) {
    let mut levels = vec![0; inked.width * inked.height];
    let inks = inked.samples.as_chunks::<4>().0;
    levels.par_iter_mut().zip(inks).with_min_len(PART).for_each(|(level, inks)| *level = lights.level(*inks));
    let grid = Grid { samples: &levels, channels: 1, light: Some(lights.scale()), ..*inked };
    let means = resample(&grid, from_samples, window);
    let area = window.area();
    for pixel in 0..area {
        let mean: [u8; 4] = std::array::from_fn(|ink| planes[ink * area + pixel]);
        let thinned = lights.thinned(mean, means[pixel]);
        thinned.into_iter().enumerate().for_each(|(ink, thin)| planes[ink * area + pixel] = thin);
    }
}

/// Pixels that are worth a thread.
const PART: usize = 1 << 14;
