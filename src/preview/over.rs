//! Over: where more ink lies together than the press takes, as the rule `ink-over-limit` measures it, for one tile.

use crate::ground::{MM_PER_INCH, Point};
use crate::preview::shown::ShownCover;
use crate::preview::studio::Studio;
use crate::raster::SheetPart;

/// Stripes of so many pixels, in a green that process inks cannot mix, so that they show on any picture.
const STRIPE: usize = 5;
const STRIPES: [[u8; 4]; 2] = [[176, 255, 0, 235], [0, 0, 0, 150]];
const CLEAR: [u8; 4] = [0; 4];

/// For every pixel of a part, row by row, whether too much ink lies there.
pub fn bits(studio: &Studio, shown: &ShownCover, part: &SheetPart<'_>, ppi: f64) -> Vec<u8> {
    let sums = shown.sums(&studio.workshop.darkroom);
    let (window, pixel) = (part.window, MM_PER_INCH / ppi);
    let place = |x: usize, y: usize| {
        Point::new(sums.area.x0 + (x as f64 + 0.5) * pixel, sums.area.y0 + (y as f64 + 0.5) * pixel)
    };
    let rows = window.y..window.y + window.height;
    let pixels = rows.flat_map(|y| (window.x..window.x + window.width).map(move |x| (x, y)));
    pixels.map(|(x, y)| u8::from(sums.is_over(place(x, y), shown.design().ink_limit))).collect()
}

/// RGB and alpha: stripes where too much ink lies, clear elsewhere.
pub fn hatched(studio: &Studio, shown: &ShownCover, part: &SheetPart<'_>, ppi: f64) -> Vec<u8> {
    let window = part.window;
    let bits = bits(studio, shown, part, ppi).into_iter().enumerate();
    let pixels = bits.map(|(at, over)| {
        let (x, y) = (window.x + at % window.width, window.y + at / window.width);
        if over == 0 { CLEAR } else { STRIPES[(x + y) / STRIPE % STRIPES.len()] }
    });
    pixels.flatten().collect()
}
