//! Screen: the only place where ink becomes RGB.

use crate::assets::{Darkroom, Profile};
use crate::ground::{Colour, Digest, Ink, Rect};
use crate::raster::plate_shares::{PROCESS, byte};
use crate::raster::plates::place;
use crate::raster::spot_proof::SpotProof;
use crate::raster::tiles::{HIGH, Tiles};
use crate::raster::window::Window;
use crate::scene::Scene;
use std::ops::Range;

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
        let proofs: Vec<SpotProof> =
            tiles.grid.spots.iter().map(|spot| SpotProof::new(spot, layer.window, tiles.grid.scale)).collect();
        screen_samples(&planes, &proofs, &scene.profile)
    });
    let mut rgb = vec![0; tiles.grid.width * tiles.grid.height * 3];
    for (tile, samples) in tiles.all.iter().zip(&drawn) {
        place(samples, 3, tile.window, &mut rgb, tiles.grid.width);
    }
    let names = tiles.all.iter().map(|tile| (tile.window, tile.name)).collect();
    Screen { width: tiles.grid.width, height: tiles.grid.height, rgb, names }
}

/// How one ink looks on bare paper. Foils are without the light that plays on them.
pub fn ink_on_screen(ink: &Ink, profile: &Profile) -> [u8; 3] {
    let process = match &ink.colour {
        Colour::Process(inks) => *inks,
        Colour::Spot(spot, tint) => spot.look.map(|look| look * tint),
    };
    let rgb = profile.screen_pixels(&process.map(byte));
    [rgb[0], rgb[1], rgb[2]]
}

impl Screen {
    /// Pixels of one row, from column `first` up to `end`.
    pub fn row(&self, row: usize, columns: Range<usize>) -> &[u8] {
        let start = row * self.width;
        &self.rgb[(start + columns.start) * 3..(start + columns.end) * 3]
    }

    /// Names all that shows in these rows and columns.
    pub fn name(&self, rows: Range<usize>, columns: Range<usize>) -> Digest {
        let meet = |from: usize, length: usize, range: &Range<usize>| from < range.end && from + length > range.start;
        let shown = self
            .names
            .iter()
            .filter(|(window, _)| meet(window.x, window.width, &columns) && meet(window.y, window.height, &rows));
        let place = [rows.start, rows.end, columns.start, columns.end].map(|edge| (edge as u64).to_le_bytes()).concat();
        let names: Vec<&[u8]> = shown.map(|(_, name)| &name.bytes()[..]).collect();
        Digest::of_all(&[&place, &names.concat()])
    }

    /// Rows cut into strips, each within one row of tiles.
    pub fn strips(&self) -> Vec<Range<usize>> {
        (0..self.height).step_by(HIGH).map(|row| row..(row + HIGH).min(self.height)).collect()
    }
}

/// Pixels that are looked at together: mostly one colour goes on.
const BLOCK: usize = 32;

fn is_all(levels: &[u8], level: u8) -> bool {
    levels.iter().fold(0, |off, own| off | (own ^ level)) == 0
}

/// Pixels to RGB. Plates lie on one another as filters do: what each lets through is multiplied.
pub fn screen_samples(planes: &[&[u8]], spots: &[SpotProof], profile: &Profile) -> Vec<u8> {
    let pixels = planes.first().map_or(0, |plane| plane.len());
    // Neighbours are often alike: each run of equal pixels is converted once.
    let mut inks: Vec<u8> = Vec::with_capacity(pixels * PROCESS);
    let mut runs: Vec<usize> = Vec::new();
    let mut last = None;
    let (process, finer) = planes.split_at(PROCESS.min(planes.len()));
    let process: [&[u8]; PROCESS] =
        std::array::from_fn(|plane| process.get(plane).map_or(&[][..], |plane| &plane[..pixels]));
    let mut pixel = 0;
    while pixel < pixels {
        let block = pixel..pixel + BLOCK;
        if let (Some(last), Some(run)) = (last, runs.last_mut())
            && block.end <= pixels
            && process.iter().zip(last).all(|(plane, level)| is_all(&plane[block.clone()], level))
            && finer.iter().zip(spots).all(|(plane, _)| is_all(&plane[block.clone()], 0))
        {
            *run += BLOCK;
            pixel = block.end;
            continue;
        }
        for pixel in pixel..block.end.min(pixels) {
            let mut cmyk = process.map(|plane| plane[pixel]);
            for (plane, spot) in finer.iter().zip(spots) {
                if plane[pixel] > 0 {
                    cmyk = spot.over(cmyk, plane[pixel], pixel);
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
        pixel = block.end;
    }
    let colours = profile.screen_pixels(&inks);
    let mut rgb = Vec::with_capacity(pixels * 3);
    for (colour, run) in colours.chunks_exact(3).zip(runs) {
        let (start, end) = (rgb.len(), rgb.len() + run * 3);
        rgb.extend_from_slice(colour);
        // Twice as much each time, which is quick where a colour goes on for long.
        while rgb.len() < end {
            rgb.extend_from_within(start..(end - rgb.len() + start).min(rgb.len()));
        }
    }
    rgb
}

#[cfg(test)]
mod tests {
    use crate::assets::Darkroom;
    use crate::ground::Ink;
    use crate::raster::screen;
    use crate::raster::trial::{PPI, rect, scene, spot};

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
            assert!(
                got[..3].iter().zip(wanted).all(|(got, wanted)| got.abs_diff(wanted) <= 1),
                "{bytes:?}: {:?}",
                &got[..3]
            );
        }
    }

    /// Bars of half a pixel, too fine to be drawn: edges are averaged as ink, as on the plates. The eye would see half of the
    /// light, level 189; half of the ink is level 158, by the same engine.
    #[test]
    fn edges_are_averaged_as_ink() {
        let bars = (0..12).map(|at| rect(f64::from(at), 0.0, 0.5, 12.0, Ink::black(1.0)));
        let scene = scene(12.0, 12.0, bars.collect());
        let seen = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default());
        assert!(seen.row(6, 6..7).iter().all(|level| level.abs_diff(158) <= 1), "{:?}", seen.row(6, 6..7));
    }

    #[test]
    fn a_spot_shows_by_its_look() {
        let red = spot("Red", false);
        let scene = scene(3.0, 3.0, vec![rect(0.0, 0.0, 3.0, 3.0, Ink::spot(red, 1.0))]);
        // The look, 0 60 90 0 percent, by the same engine.
        let rgb = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default()).rgb;
        assert!(rgb[..3].iter().zip([240_u8, 128, 49]).all(|(got, wanted)| got.abs_diff(wanted) <= 1), "{rgb:?}");
    }

    #[test]
    fn rows_and_strips_cover_the_screen() {
        let scene = scene(3.0, 150.0, vec![rect(1.0, 0.0, 1.0, 150.0, Ink::black(1.0))]);
        let screen = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default());
        let row = screen.row(149, 1..3);
        assert_eq!((row.len(), row[0] < 60, row[3]), (6, true, 255));
        assert_eq!(screen.strips(), [0..64, 64..128, 128..150]);
        assert_ne!(screen.name(0..64, 0..3), screen.name(64..128, 0..3));
    }
}
