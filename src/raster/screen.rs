//! Screen: the only place where ink becomes RGB.

use crate::assets::{Darkroom, Profile};
use crate::ground::{Digest, Rect, Spot};
use crate::raster::canvas::Window;
use crate::raster::plates::place;
use crate::raster::stamp::{PROCESS, byte};
use crate::raster::tiles::Tiles;
use crate::scene::Scene;
use std::sync::Arc;

/// Pixels for a screen, sRGB, 8 bit, three a pixel.
pub struct Screen {
    pub width: usize,
    pub height: usize,
    pub rgb: Vec<u8>,
    /// The tiles it was laid of, each named by all that shows in it.
    pub names: Vec<(Window, Digest)>,
}

/// Draws `area` of a scene as it will look in print: `plates` and their soft proof in one, tile by tile.
pub fn screen(scene: &Scene, area: Rect, ppi: f64, darkroom: &Darkroom) -> Screen {
    let tiles = Tiles::new(scene, area, ppi, darkroom);
    let drawn = tiles.draw("screen", |layer| {
        let planes: Vec<&[u8]> = layer.planes.iter().map(Vec::as_slice).collect();
        screen_samples(&planes, &tiles.spots, &scene.profile)
    });
    let mut rgb = vec![0; tiles.width * tiles.height * 3];
    for (tile, samples) in tiles.all.iter().zip(&drawn) {
        place(samples, 3, tile.window, &mut rgb, tiles.width);
    }
    let names = tiles.all.iter().map(|tile| (tile.window, tile.name)).collect();
    Screen { width: tiles.width, height: tiles.height, rgb, names }
}

impl Screen {
    /// The part from column `first` up to `end`.
    #[must_use]
    pub fn columns(&self, first: usize, end: usize) -> Screen {
        let end = end.min(self.width);
        let first = first.min(end);
        let rows = self.rgb.chunks_exact(self.width * 3);
        let rgb = rows.flat_map(|row| &row[first * 3..end * 3]).copied().collect();
        let shows = |window: &Window| (window.x as usize) < end && window.x as usize + window.width > first;
        let names = self.names.iter().filter(|(window, _)| shows(window)).copied().collect();
        Screen { width: end - first, height: self.height, rgb, names }
    }
}

/// Pixels to RGB. Plates lie on one another as filters do: what each lets through is multiplied.
pub fn screen_samples(planes: &[&[u8]], spots: &[Arc<Spot>], profile: &Profile) -> Vec<u8> {
    let pixels = planes.first().map_or(0, |plane| plane.len());
    let filters: Vec<[[u8; 256]; PROCESS]> = spots.iter().map(|spot| filter(spot)).collect();
    // Neighbours are often alike: each run of equal pixels is converted once.
    let mut inks: Vec<u8> = Vec::with_capacity(pixels * PROCESS);
    let mut runs: Vec<usize> = Vec::new();
    let mut last = None;
    for pixel in 0..pixels {
        let mut cmyk: [u8; PROCESS] = std::array::from_fn(|plane| planes[plane][pixel]);
        for (plane, filter) in planes[PROCESS..].iter().zip(&filters) {
            let tint = usize::from(plane[pixel]);
            if tint > 0 {
                cmyk = std::array::from_fn(|ink| {
                    let passed = u32::from(255 - cmyk[ink]) * u32::from(filter[ink][tint]);
                    255 - ((passed + 127) / 255) as u8
                });
            }
        }
        if last == Some(cmyk) {
            runs.last_mut().into_iter().for_each(|run| *run += 1);
        } else {
            inks.extend(cmyk);
            runs.push(1);
            last = Some(cmyk);
        }
    }
    let colours = profile.screen_pixels(&inks);
    let mut rgb = Vec::with_capacity(pixels * 3);
    for (colour, run) in colours.chunks_exact(3).zip(runs) {
        (0..run).for_each(|_| rgb.extend_from_slice(colour));
    }
    rgb
}

/// What a spot's look lets through of each process ink's colour, tint by tint.
fn filter(spot: &Spot) -> [[u8; 256]; PROCESS] {
    spot.look.map(|ink| std::array::from_fn(|tint| byte(1.0 - ink * tint as f64 / 255.0)))
}
