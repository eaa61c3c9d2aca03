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
    let filters: Vec<Filter> = spots.iter().map(|spot| Filter::new(spot)).collect();
    // Neighbours are often alike: each run of equal pixels is converted once.
    let mut inks: Vec<u8> = Vec::with_capacity(pixels * PROCESS);
    let mut runs: Vec<usize> = Vec::new();
    let mut last = None;
    for pixel in 0..pixels {
        let mut cmyk: [u8; PROCESS] = std::array::from_fn(|plane| planes[plane][pixel]);
        for (plane, filter) in planes[PROCESS..].iter().zip(&filters) {
            let tint = usize::from(plane[pixel]);
            if tint > 0 {
                cmyk = filter.over(cmyk, tint);
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

/// How a spot's look changes the process colour under it.
struct Filter {
    /// What it lets through of each process ink's colour, tint by tint.
    passed: [[u8; 256]; PROCESS],
    /// It hides what lies under it and shows this.
    instead: Option<[u8; PROCESS]>,
}

impl Filter {
    fn new(spot: &Spot) -> Filter {
        let passed = spot.look.map(|ink| std::array::from_fn(|tint| byte(1.0 - ink * tint as f64 / 255.0)));
        Filter { passed, instead: spot.opaque.then(|| spot.look.map(byte)) }
    }

    fn over(&self, cmyk: [u8; PROCESS], tint: usize) -> [u8; PROCESS] {
        let share = |product: u32| ((product + 127) / 255) as u8;
        std::array::from_fn(|ink| match self.instead {
            Some(look) => share(u32::from(cmyk[ink]) * (255 - tint as u32) + u32::from(look[ink]) * tint as u32),
            None => 255 - share(u32::from(255 - cmyk[ink]) * u32::from(self.passed[ink][tint])),
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::assets::Darkroom;
    use crate::ground::Ink;
    use crate::raster::screen;
    use crate::raster::trial::{PPI, draw, rect, scene, spot};

    /// CMYK bytes and their sRGB, as Pillow 13.0 (LittleCMS 2.19) converts them from the bundled coated profile, relative
    /// colorimetric, no compensation.
    const PILLOW: [([u8; 4], [u8; 3]); 7] = [
        ([0, 0, 0, 0], [255, 255, 255]),
        ([255, 0, 0, 0], [0, 160, 228]),
        ([0, 255, 0, 0], [230, 12, 128]),
        ([0, 0, 255, 0], [255, 238, 0]),
        ([0, 0, 0, 255], [43, 43, 42]),
        ([51, 102, 153, 26], [196, 152, 109]),
        ([255, 255, 255, 255], [28, 27, 24]),
    ];

    #[test]
    fn inks_look_as_another_engine_shows_them() {
        for (bytes, wanted) in PILLOW {
            let [c, m, y, k] = bytes.map(|byte| f64::from(byte) / 255.0);
            let scene = scene(3.0, 3.0, vec![rect(0.0, 0.0, 3.0, 3.0, Ink::process(c, m, y, k))]);
            let got = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default()).rgb;
            assert!(got[..3].iter().zip(wanted).all(|(got, wanted)| got.abs_diff(wanted) <= 1), "{bytes:?}: {:?}", &got[..3]);
        }
    }

    #[test]
    fn a_spot_shows_by_its_look() {
        let red = spot("Red", false);
        let scene = scene(3.0, 3.0, vec![rect(0.0, 0.0, 3.0, 3.0, Ink::spot(red, 1.0))]);
        // The look, 0 60 90 0 percent, by the same engine.
        let rgb = draw(&scene).screen(&scene.profile).rgb;
        assert!(rgb[..3].iter().zip([240_u8, 128, 49]).all(|(got, wanted)| got.abs_diff(wanted) <= 1), "{rgb:?}");
    }

    #[test]
    fn columns_are_cut_whole() {
        let marks = vec![rect(1.0, 0.0, 1.0, 2.0, Ink::black(1.0))];
        let scene = scene(3.0, 2.0, marks);
        let cut = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default()).columns(1, 3);
        assert_eq!((cut.width, cut.height, cut.rgb.len()), (2, 2, 12));
        assert_eq!((cut.rgb[6] < 60, cut.rgb[9]), (true, 255));
    }
}
