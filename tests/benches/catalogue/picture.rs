//! Picture: something like a photograph, drawn at random: skies of soft noise, hills with edges, the grain of a film.

use super::chance::Chance;
use image::codecs::jpeg::{JpegEncoder, PixelDensity};
use std::path::Path;

pub const COUNT: usize = 50;
/// A front of 129 x 198 mm that runs 1.5 mm over the spine and 3 mm into the bleed, at 300 pixels an inch.
pub const WIDTH: u32 = 1580;
pub const HEIGHT: u32 = 2410;
const QUALITY: u8 = 90;
const PPI: u16 = 300;
/// Cells of the coarsest noise.
const CELLS: usize = 5;
const OCTAVES: usize = 6;

pub fn write(path: &Path, seed: u64) {
    write_of(path, seed, (WIDTH, HEIGHT));
}

/// The same of any size.
pub fn write_of(path: &Path, seed: u64, (width, height): (u32, u32)) {
    let mut chance = Chance::new(seed);
    let inks: [[f32; 3]; 3] = std::array::from_fn(|_| std::array::from_fn(|_| chance.between(20.0, 235.0) as f32));
    let noise: Vec<Lattice> = (0..OCTAVES).map(|octave| Lattice::new(&mut chance, CELLS << octave)).collect();
    let horizon = chance.between(0.4, 0.7) as f32;
    let mut pixels = Vec::with_capacity((width * height * 3) as usize);
    for y in 0..height {
        for x in 0..width {
            let (across, down) = (x as f32 / height as f32, y as f32 / height as f32);
            let at = |from: usize, to: usize| -> f32 {
                let share = |octave: usize| noise[octave].at(across, down) / (1 << (octave - from)) as f32;
                (from..to).map(share).sum::<f32>() / 2.0
            };
            let (cloud, ridge) = (at(0, OCTAVES), horizon + (at(1, 4) - 0.5) * 0.3);
            let (one, other) = if down > ridge { (inks[1], inks[2]) } else { (inks[0], inks[1]) };
            let grain = (chance.next() >> 60) as f32 - 7.5;
            pixels.extend((0..3).map(|ink| (one[ink] + (other[ink] - one[ink]) * cloud + grain * 0.6) as u8));
        }
    }
    let mut file = Vec::new();
    let mut encoder = JpegEncoder::new_with_quality(&mut file, QUALITY);
    encoder.set_pixel_density(PixelDensity::dpi(PPI));
    encoder.encode(&pixels, width, height, image::ExtendedColorType::Rgb8).expect("RGB becomes a JPEG");
    std::fs::write(path, file).expect("a picture can be written");
}

/// Values at the corners of cells, met between them softly.
struct Lattice {
    cells: usize,
    values: Vec<f32>,
}

impl Lattice {
    fn new(chance: &mut Chance, cells: usize) -> Lattice {
        let side = cells + 2;
        Lattice { cells, values: (0..side * side).map(|_| chance.between(0.0, 1.0) as f32).collect() }
    }

    fn at(&self, across: f32, down: f32) -> f32 {
        let place = |share: f32| {
            let scaled = share * self.cells as f32;
            let cell = (scaled as usize).min(self.cells);
            let part = scaled - cell as f32;
            (cell, part * part * (3.0 - 2.0 * part))
        };
        let ((column, x), (row, y)) = (place(across), place(down));
        let value = |column: usize, row: usize| self.values[row * (self.cells + 2) + column];
        let mix = |a: f32, b: f32, part: f32| a + (b - a) * part;
        let (above, below) = (
            mix(value(column, row), value(column + 1, row), x),
            mix(value(column, row + 1), value(column + 1, row + 1), x),
        );
        mix(above, below, y)
    }
}
