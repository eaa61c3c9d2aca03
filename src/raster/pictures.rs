//! Pictures in the pixels of the sheet: turned into ink, scaled, remembered in the darkroom.

use crate::assets::{Darkroom, Picture, Profile};
use crate::ground::{Affine, Digest};
use crate::raster::canvas::Window;
use crate::raster::layer::Lay;
use crate::raster::resample::{Grid, resample};
use crate::scene::Placed;
use std::sync::Arc;

/// A picture as far as it shows: one plane (black) or four, then its alpha if it has one.
pub struct Scaled {
    pub window: Window,
    samples: Arc<Vec<u8>>,
    inks: usize,
    veiled: bool,
}

/// `None` when nothing of it is in view.
pub fn scaled(
    placed: &Placed,
    to_pixels: Affine,
    view: Window,
    profile: &Profile,
    darkroom: &Darkroom,
) -> Option<Scaled> {
    let picture = &*placed.picture;
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let from_samples = to_pixels
        * placed.transform
        * Affine::scale_non_uniform(1.0 / f64::from(picture.width()), 1.0 / f64::from(picture.height()));
    let window = view.cut(to_pixels.transform_rect_bbox(placed.bounds()));
    if window.area() == 0 || !from_samples.is_finite() || from_samples.determinant() == 0.0 {
        return None;
    }
    let (inks, veiled) = match &placed.paint {
        Some(_) => (0, true),
        None => (darkroom.negative(picture, profile).model.channels(), picture.pixels().alpha.is_some()),
    };
    let key = key(placed, from_samples, window, profile);
    let samples = darkroom.stream(key, || {
        if placed.paint.is_some() {
            let veil = veil(picture);
            let grid = Grid { samples: &[], channels: 0, alpha: Some(&veil), width, height };
            resample(&grid, from_samples, window)
        } else {
            let negative = darkroom.negative(picture, profile);
            let alpha = picture.pixels().alpha.as_deref();
            let grid = Grid { samples: &negative.samples, channels: inks, alpha, width, height };
            resample(&grid, from_samples, window)
        }
    });
    Some(Scaled { window, samples, inks, veiled })
}

impl Scaled {
    /// How opaque it is along a run of pixels; `None` where it is so everywhere.
    pub fn veil(&self, x: i64, y: i64, length: usize) -> Option<&[u8]> {
        self.veiled.then(|| self.run(self.inks, x, y, length))
    }

    /// What it lays on a process plate along a run of pixels.
    pub fn lay(&self, plane: usize, x: i64, y: i64, length: usize) -> Lay<'_> {
        match (self.inks, plane) {
            (1, 3) => Lay::Each(self.run(0, x, y, length)),
            (4, plane) => Lay::Each(self.run(plane, x, y, length)),
            _ => Lay::Even(0),
        }
    }

    fn run(&self, plane: usize, x: i64, y: i64, length: usize) -> &[u8] {
        let (column, row) = ((x - self.window.x) as usize, (y - self.window.y) as usize);
        let start = plane * self.window.area() + row * self.window.width + column;
        &self.samples[start..start + length]
    }
}

/// Where a painted picture lets ink through: its alpha, or else its darkness.
fn veil(picture: &Picture) -> Vec<u8> {
    let pixels = picture.pixels();
    match &pixels.alpha {
        Some(alpha) => alpha.clone(),
        None => darkness(&pixels.samples, picture.model().channels()),
    }
}

fn darkness(samples: &[u8], channels: usize) -> Vec<u8> {
    // Luma of Rec. 601, as JPEG files carry it.
    let luma = |rgb: &[u8]| (299 * u32::from(rgb[0]) + 587 * u32::from(rgb[1]) + 114 * u32::from(rgb[2]) + 500) / 1000;
    let dark = |pixel: &[u8]| match pixel {
        [grey] => 255 - grey,
        [_, _, _] => 255 - luma(pixel) as u8,
        [c, m, y, k] => {
            let light = [c, m, y].map(|ink| 255 - u32::from(*ink).min(255 - u32::from(*k)) - u32::from(*k));
            255 - luma(&light.map(|light| light as u8)) as u8
        }
        _ => 0,
    };
    samples.chunks_exact(channels).map(dark).collect()
}

fn key(placed: &Placed, from_samples: Affine, window: Window, profile: &Profile) -> Digest {
    let mut place = Vec::new();
    from_samples.as_coeffs().iter().for_each(|number| place.extend(number.to_le_bytes()));
    [window.x, window.y, window.width as i64, window.height as i64]
        .iter()
        .for_each(|number| place.extend(number.to_le_bytes()));
    place.push(u8::from(placed.paint.is_some()));
    Digest::of_all(&[b"scaled", placed.picture.digest().bytes(), profile.digest().bytes(), &place])
}
