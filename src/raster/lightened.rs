//! Lightened: pictures in ink scaled down for the eye, as light as what they are means of.

use crate::assets::InkLights;
use crate::ground::Affine;
use crate::raster::grid::{Grid, Samples};
use crate::raster::resample::resample;
use crate::raster::window::Window;
use rayon::prelude::*;
use std::ops::Range;
use std::sync::{Mutex, PoisonError};

/// Whether several samples fall on one pixel.
pub fn is_reduced(from_samples: Affine) -> bool {
    let [a, b, c, d, ..] = from_samples.as_coeffs();
    a.hypot(b) < 1.0 || c.hypot(d) < 1.0
}

/// How light the samples of a picture in process inks are. Samples that are made for this are noted when they are made; those
/// that lie in memory are looked up when they are needed.
pub struct InkLevels<'a> {
    lights: &'a InkLights,
    width: usize,
    known: Mutex<Vec<u8>>,
}

impl<'a> InkLevels<'a> {
    pub fn new(lights: &'a InkLights, width: usize, height: usize) -> InkLevels<'a> {
        InkLevels { lights, width, known: Mutex::new(vec![0; width * height]) }
    }

    pub fn note(&self, rows: Range<usize>, columns: Range<usize>, inks: &[u8]) {
        let inks = inks.as_chunks::<4>().0;
        let levels: Vec<u8> = inks.par_iter().with_min_len(PART).map(|inks| self.lights.level(*inks)).collect();
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        for (row, levels) in rows.zip(levels.chunks_exact(columns.len().max(1))) {
            known[row * self.width..][columns.clone()].copy_from_slice(levels);
        }
    }

    /// Means of process inks, thinned to the means of their light.
    pub fn lighten(&self, planes: &mut [u8], inked: &Grid<'_>, from_samples: Affine, window: Window) {
        if let Samples::Whole(all) = inked.samples {
            let under = rows_under(window, from_samples, inked.height);
            for start in under.clone().step_by(ROWS) {
                let rows = start..under.end.min(start + ROWS);
                let inks = &all[rows.start * self.width * 4..rows.end * self.width * 4];
                self.note(rows, 0..self.width, inks);
            }
        }
        let levels = std::mem::take(&mut *self.known.lock().unwrap_or_else(PoisonError::into_inner));
        let grid = Grid { samples: Samples::Whole(&levels), channels: 1, light: Some(self.lights.scale()), ..*inked };
        let means = resample(&grid, from_samples, window);
        let mut plates = planes.chunks_exact_mut(window.area());
        let [c, m, y, k] = std::array::from_fn(|_| plates.next().expect("a plane for each process ink"));
        (c, m, y, k, &means[..window.area()]).into_par_iter().with_min_len(PART).for_each(|(c, m, y, k, mean)| {
            [*c, *m, *y, *k] = self.lights.thinned([*c, *m, *y, *k], *mean);
        });
    }
}

/// Rows that are looked up at a time.
const ROWS: usize = 256;
/// Pixels that are worth a thread.
const PART: usize = 1 << 14;
/// Pixels beside one whose samples count for it, at the most: four of a picture that is first reduced to whole pixels, which
/// makes these up to half as large again.
const BESIDE: f64 = 6.0;

/// The rows of samples that the pixels of a window are made of.
fn rows_under(window: Window, from_samples: Affine, height: usize) -> Range<usize> {
    let [_, _, c, d, ..] = from_samples.as_coeffs();
    let beside = BESIDE * c.hypot(d).recip().max(1.0);
    let under = from_samples.inverse().transform_rect_bbox(window.rect()).inflate(beside, beside);
    let end = under.y1.min(height as f64).ceil() as usize;
    (under.y0.max(0.0) as usize).min(end)..end
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};

    #[test]
    fn a_part_is_what_it_is_in_the_whole() {
        let (width, height) = (90, 120);
        let sample = |at: usize| (at as u32).wrapping_mul(2_654_435_761).to_be_bytes()[0];
        let samples: Vec<u8> = (0..width * height * 4).map(sample).collect();
        let grid = Grid { samples: Samples::Whole(&samples), channels: 4, alpha: None, width, height, light: None };
        let lights = InkLights::new(|_, share| 1.0 - 0.9 * share);
        for place in [
            Affine::scale_non_uniform(0.4, 0.3),
            Affine::scale_non_uniform(0.4, 1.7),
            Affine::new([0.0, 0.4, -0.3, 0.0, 38.0, 0.0]),
            Affine::translate((20.0, 0.0)) * Affine::rotate(0.4) * Affine::scale(0.25),
            Affine::translate((30.0, 40.0)) * Affine::rotate(3.0) * Affine::scale_non_uniform(0.1, 0.012),
        ] {
            let planes = |window: Window| {
                let mut planes = resample(&grid, place, window);
                InkLevels::new(&lights, width, height).lighten(&mut planes, &grid, place, window);
                planes
            };
            // The same of samples that are made: none twice, and no others than these pixels are made of.
            let made = |window: Window| {
                let (levels, asked) = (InkLevels::new(&lights, width, height), AtomicUsize::new(0));
                let make = |rows: Range<usize>, columns: Range<usize>| {
                    asked.fetch_add(rows.len() * columns.len(), Ordering::Relaxed);
                    let run = |row: usize| &samples[(row * width + columns.start) * 4..(row * width + columns.end) * 4];
                    let part: Vec<u8> = rows.clone().flat_map(run).copied().collect();
                    levels.note(rows, columns.clone(), &part);
                    part.into()
                };
                let grid = Grid { samples: Samples::Made(&make), ..grid };
                let mut planes = resample(&grid, place, window);
                levels.lighten(&mut planes, &grid, place, window);
                (planes, asked.into_inner())
            };
            let all = planes(Window { x: 0, y: 0, width: 40, height: 40 });
            for (x, y) in [(3, 4), (20, 12), (8, 33)] {
                let window = Window { x, y, width: 5, height: 3 };
                let own = planes(window);
                let (made, asked) = made(window);
                assert_eq!(own, made, "{place:?} {x} {y}");
                let [a, b, c, d, ..] = place.as_coeffs();
                if a * b == 0.0 && c * d == 0.0 {
                    assert!(asked <= 300, "{place:?} {x} {y}: {asked}");
                } else {
                    assert_eq!(asked, width * height, "{place:?} {x} {y}");
                }
                for (row, own) in own.chunks_exact(5).enumerate() {
                    let start = row / 3 * 1600 + (y + row % 3) * 40 + x;
                    assert_eq!(own, &all[start..start + 5], "{place:?} {x} {y} {row}");
                }
            }
        }
    }
}
