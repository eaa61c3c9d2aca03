//! Pictures in the pixels of the sheet: turned into ink, scaled, remembered in the darkroom.
//!
//! Plates are means of ink, as on the press. For the eye light is averaged: a picture in RGB or grey is scaled first, in light,
//! and then turned into ink.

use crate::assets::{LightScale, Pixels};
use crate::ground::{Affine, Digest};
use crate::raster::layer::Lay;
use crate::raster::raster_context::RasterContext;
use crate::raster::resample::{Grid, resample};
use crate::raster::window::Window;
use crate::scene::PlacedPicture;
use std::sync::Arc;

/// A picture as far as it shows: one plane (black) or four, then its alpha if it has one.
pub struct Scaled {
    pub window: Window,
    samples: Arc<Vec<u8>>,
    inks: usize,
    veiled: bool,
}

/// `None` when nothing of it is in view.
pub fn scaled(placed: &PlacedPicture, view: Window, context: &RasterContext<'_>) -> Option<Scaled> {
    let RasterContext { to_pixels, profile, darkroom, .. } = *context;
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
        None => (profile.printed_model(picture, placed.separation).channels(), picture.alpha().is_some()),
    };
    let key = key(placed, from_samples, window, context);
    // A spine of another width moves it by part of a pixel: to scale it again is quicker than to keep every place of it.
    let samples = darkroom.stream(key, || {
        if placed.paint.is_some() {
            let veil = picture.darkness();
            let grid = Grid { samples: &[], channels: 0, alpha: Some(&veil), width, height, light: None };
            resample(&grid, from_samples, window)
        } else if let Some(light) = light(placed, context) {
            let (pixels, channels) = (picture.pixels(), picture.model().channels());
            let (samples, alpha) = (&pixels.samples[..], picture.alpha());
            let grid = Grid { samples, channels, alpha, width, height, light: Some(&light) };
            let planes = resample(&grid, from_samples, window);
            let (levels, veil) = planes.split_at(channels * window.area());
            let few = Pixels::opaque(woven(levels, channels));
            let mut inked = unwoven(&profile.press_inks(picture, &few, placed.separation), inks);
            inked.extend(veil);
            inked
        } else {
            let negative = darkroom.negative(picture, placed.separation, profile);
            let alpha = picture.alpha();
            let grid = Grid { samples: &negative.samples, channels: inks, alpha, width, height, light: None };
            resample(&grid, from_samples, window)
        }
    });
    Some(Scaled { window, samples, inks, veiled })
}

impl Scaled {
    /// How opaque it is along a run of pixels; `None` where it is so everywhere.
    pub fn veil(&self, x: usize, y: usize, length: usize) -> Option<&[u8]> {
        self.veiled.then(|| self.run(self.inks, x, y, length))
    }

    /// What it lays on a process plate along a run of pixels.
    pub fn lay(&self, plane: usize, x: usize, y: usize, length: usize) -> Lay<'_> {
        match (self.inks, plane) {
            (1, 3) => Lay::Each(self.run(0, x, y, length)),
            (4, plane) => Lay::Each(self.run(plane, x, y, length)),
            _ => Lay::Even(0),
        }
    }

    fn run(&self, plane: usize, x: usize, y: usize, length: usize) -> &[u8] {
        let (column, row) = (x - self.window.x, y - self.window.y);
        let start = plane * self.window.area() + row * self.window.width + column;
        &self.samples[start..start + length]
    }
}

/// What a picture is scaled by for the eye.
fn light(placed: &PlacedPicture, context: &RasterContext<'_>) -> Option<LightScale> {
    let scale = || context.profile.light_scale(&placed.picture, placed.separation);
    context.for_the_eye.then(scale).flatten()
}

/// Planes to pixels, channels side by side.
pub fn woven(planes: &[u8], channels: usize) -> Vec<u8> {
    let pixels = planes.len() / channels;
    (0..planes.len()).map(|at| planes[at % channels * pixels + at / channels]).collect()
}

fn unwoven(pixels: &[u8], channels: usize) -> Vec<u8> {
    (0..channels).flat_map(|channel| pixels.iter().skip(channel).step_by(channels).copied()).collect()
}

fn key(placed: &PlacedPicture, from_samples: Affine, window: Window, context: &RasterContext<'_>) -> Digest {
    let mut place = from_samples.as_coeffs().map(f64::to_le_bytes).concat();
    place.extend([window.x, window.y, window.width, window.height].map(|edge| (edge as u64).to_le_bytes()).concat());
    place.extend([u8::from(placed.paint.is_some()), u8::from(context.for_the_eye)]);
    place.extend(placed.separation.code());
    Digest::of_all(&[b"scaled", placed.picture.digest().bytes(), context.profile.digest().bytes(), &place])
}

#[cfg(test)]
mod tests {
    use crate::assets::Darkroom;
    use crate::ground::{Affine, Ink};
    use crate::raster::screen;
    use crate::raster::trial::{PPI, draw, picture, rect, scene};
    use png::ColorType;

    /// Black, white / white, black, as grey samples.
    const CHECK: [u8; 4] = [0, 255, 255, 0];

    fn black(transform: Affine, columns: impl IntoIterator<Item = usize>, y: usize) -> Vec<u8> {
        let plates = draw(&scene(12.0, 12.0, vec![picture(2, 2, ColorType::Grayscale, &CHECK, transform, None)]));
        columns.into_iter().map(|x| plates.at(x, y)[3]).collect()
    }

    #[test]
    fn samples_fall_where_they_are_placed() {
        let exact = Affine::new([2.0, 0.0, 0.0, 2.0, 3.0, 4.0]);
        assert_eq!(black(exact, 2..6, 4), [0, 255, 0, 0]);
        assert_eq!(black(exact, 2..6, 5), [0, 0, 255, 0]);
        assert_eq!(black(exact, 2..6, 6), [0, 0, 0, 0]);
        let mirrored = Affine::new([-2.0, 0.0, 0.0, 2.0, 5.0, 4.0]);
        assert_eq!(black(mirrored, 2..6, 4), [0, 0, 255, 0]);
        // A quarter turn clockwise: the left column becomes the head.
        let turned = Affine::new([0.0, 2.0, -2.0, 0.0, 5.0, 4.0]);
        assert_eq!(black(turned, 2..6, 4), [0, 0, 255, 0]);
        assert_eq!(black(turned, 2..6, 5), [0, 255, 0, 0]);
    }

    #[test]
    fn a_reduced_picture_is_its_average() {
        let half = Affine::new([1.0, 0.0, 0.0, 1.0, 3.0, 4.0]);
        assert_eq!(black(half, 2..5, 4), [0, 128, 0]);
        let tilted = Affine::rotate(0.3) * Affine::scale(9.0);
        let plates = draw(&scene(12.0, 12.0, vec![picture(1, 1, ColorType::Grayscale, &[55], tilted, None)]));
        assert_eq!(plates.at(3, 6)[3], 200);
    }

    /// Chequers of single samples, four of them a pixel, in two colours: the eye sees the mean of their light. The old way, the
    /// mean of their inks, showed black and white as 113.
    #[test]
    fn fine_chequers_show_the_mean_of_their_light() {
        let shown = |side: usize, colours: [[u8; 3]; 2]| {
            let samples: Vec<u8> = (0..side * side).flat_map(|at| colours[(at / side + at % side) % 2]).collect();
            let place = Affine::scale(12.0);
            let picture = picture(side as u32, side as u32, ColorType::Rgb, &samples, place, None);
            let scene = scene(12.0, 12.0, vec![picture]);
            let screen = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default());
            let middle = screen.row(6, 6..7);
            [middle[0], middle[1], middle[2]]
        };
        // IEC 61966-2-1.
        let light = |level: u8| {
            let share = f64::from(level) / 255.0;
            if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        for (one, slack) in [([0, 0, 0], 0.01), ([200, 30, 40], 0.02), ([30, 90, 60], 0.02)] {
            let other = [255; 3];
            let seen = [one, other].map(|colour| shown(1, [colour; 2]).map(light));
            let mixed = shown(24, [one, other]).map(light);
            for channel in 0..3 {
                let mean = f64::midpoint(seen[0][channel], seen[1][channel]);
                assert!((mixed[channel] - mean).abs() < slack, "{one:?} {channel}: {} for {mean}", mixed[channel]);
            }
        }
    }

    #[test]
    fn edges_between_pixels_are_shared() {
        let shifted = Affine::new([2.0, 0.0, 0.0, 2.0, 3.25, 4.0]);
        let plates = draw(&scene(12.0, 12.0, vec![picture(1, 1, ColorType::Grayscale, &[0], shifted, None)]));
        assert_eq!([2, 3, 4, 5, 6].map(|x| plates.at(x, 4)[3]), [0, 191, 255, 64, 0]);
    }

    #[test]
    fn alpha_and_paint_let_the_ground_through() {
        let whole = Affine::new([4.0, 0.0, 0.0, 4.0, 2.0, 2.0]);
        let ground = || rect(0.0, 0.0, 12.0, 12.0, Ink::process(1.0, 0.0, 0.0, 0.0));
        let veiled = picture(1, 1, ColorType::GrayscaleAlpha, &[0, 51], whole, None);
        assert_eq!(draw(&scene(12.0, 12.0, vec![ground(), veiled])).at(4, 4), [204, 0, 0, 51]);
        let paint = Some(Ink::process(0.0, 1.0, 0.0, 0.0).overprinting());
        let painted = picture(1, 1, ColorType::Grayscale, &[204], whole, paint);
        assert_eq!(draw(&scene(12.0, 12.0, vec![ground(), painted])).at(4, 4), [255, 51, 0, 0]);
    }

    #[test]
    fn a_picture_of_no_size_prints_nothing() {
        for flat in [Affine::scale(0.0), Affine::new([f64::NAN; 6]), Affine::new([1e300, 0.0, 0.0, 1e-300, 0.0, 0.0])] {
            let nothing = draw(&scene(12.0, 12.0, vec![picture(2, 2, ColorType::Grayscale, &CHECK, flat, None)]));
            assert!(nothing.process[3].iter().all(|ink| *ink == 0));
        }
    }
}
