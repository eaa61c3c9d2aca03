//! Pictures in the pixels of the sheet: turned into ink, scaled, remembered in the darkroom.
//!
//! Plates are means of ink, as on the press. For the eye light is averaged: a picture in RGB or grey is scaled first, in light,
//! and then turned into ink; means of process inks are thinned until they are as light as what they are means of.

use crate::assets::{LightScale, PicturePlate, Pixels};
use crate::ground::{Affine, Digest, PROCESS_PLATES, Spot};
use crate::raster::grid::{Grid, Samples};
use crate::raster::layer::Lay;
use crate::raster::lightened::{InkLevels, is_reduced};
use crate::raster::raster_context::RasterContext;
use crate::raster::resample::{resample, resample_pixels};
use crate::raster::window::Window;
use crate::raster::woven::{unwoven, woven};
use crate::scene::PlacedPicture;
use std::ops::Range;
use std::sync::Arc;

/// A picture as far as it shows: a plane for each of its plates, then its alpha if it has one.
pub struct Scaled {
    pub window: Window,
    samples: Arc<Vec<u8>>,
    inks: usize,
    /// For every plate of the sheet, which of its planes lies there.
    lies: Vec<Option<usize>>,
    veiled: bool,
}

/// `None` when nothing of it is in view.
pub fn scaled(placed: &PlacedPicture, view: Window, context: &RasterContext<'_>) -> Option<Scaled> {
    let RasterContext { to_pixels, profile, darkroom, spots, .. } = *context;
    let picture = &*placed.picture;
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let from_samples = to_pixels
        * placed.transform
        * Affine::scale_non_uniform(1.0 / f64::from(picture.width()), 1.0 / f64::from(picture.height()));
    let window = view.cut(to_pixels.transform_rect_bbox(placed.bounds()));
    if window.area() == 0 || !from_samples.is_finite() || from_samples.determinant() == 0.0 {
        return None;
    }
    let (plates, veiled) = match &placed.paint {
        Some(_) => (Vec::new(), true),
        None => (profile.picture_plates(picture, placed.separation), picture.alpha().is_some()),
    };
    let inks = plates.len();
    let key = key(placed, from_samples, window, context);
    // A spine of another width moves it by part of a pixel: to scale it again is quicker than to keep every place of it.
    let samples = darkroom.stream(key, || {
        if placed.paint.is_some() {
            let veil = picture.darkness();
            let grid =
                Grid { samples: Samples::Whole(&[]), channels: 0, alpha: Some(&veil), width, height, light: None };
            resample(&grid, from_samples, window)
        } else if let Some(light) = light(placed, context) {
            let (pixels, channels) = (picture.pixels(), picture.model().channels());
            let (samples, alpha) = (Samples::Whole(&pixels.samples), picture.alpha());
            let grid = Grid { samples, channels, alpha, width, height, light: Some(&light) };
            let (few, veil) = if alpha.is_none() {
                (resample_pixels(&grid, from_samples, window), Vec::new())
            } else {
                let mut planes = resample(&grid, from_samples, window);
                let veil = planes.split_off(channels * window.area());
                (woven(&planes, channels), veil)
            };
            let few = Pixels::opaque(few);
            let mut inked = unwoven(&profile.press_inks(picture, &few, placed.separation), inks);
            inked.extend(veil);
            inked
        } else {
            let inked = darkroom.ink_rows(picture, placed.separation, profile);
            let is_lightened = context.for_the_eye && plates == PicturePlate::process() && is_reduced(from_samples);
            let levels = is_lightened.then(|| InkLevels::new(profile.ink_lights(), width, height));
            let made = |rows: Range<usize>, columns: Range<usize>| {
                let part = inked.part(rows.clone(), columns.clone());
                if let Some(levels) = &levels {
                    levels.note(rows, columns, &part);
                }
                part.into()
            };
            let samples = inked.whole().map_or(Samples::Made(&made), Samples::Whole);
            let alpha = picture.alpha();
            let grid = Grid { samples, channels: inks, alpha, width, height, light: None };
            let mut planes = resample(&grid, from_samples, window);
            if let Some(levels) = &levels {
                levels.lighten(&mut planes, &grid, from_samples, window);
            }
            planes
        }
    });
    Some(Scaled { window, samples, inks, lies: lies(&plates, spots), veiled })
}

impl Scaled {
    /// How opaque it is along a run of pixels; `None` where it is so everywhere.
    pub fn veil(&self, x: usize, y: usize, length: usize) -> Option<&[u8]> {
        self.veiled.then(|| self.run(self.inks, x, y, length))
    }

    /// What it lays on a plate of the sheet along a run of pixels.
    pub fn lay(&self, plane: usize, x: usize, y: usize, length: usize) -> Lay<'_> {
        self.lies.get(plane).copied().flatten().map_or(Lay::Even(0), |own| Lay::Each(self.run(own, x, y, length)))
    }

    fn run(&self, plane: usize, x: usize, y: usize, length: usize) -> &[u8] {
        let (column, row) = (x - self.window.x, y - self.window.y);
        let start = plane * self.window.area() + row * self.window.width + column;
        &self.samples[start..start + length]
    }
}

/// On the process plates and those of the spot inks.
fn lies(plates: &[PicturePlate], spots: &[Arc<Spot>]) -> Vec<Option<usize>> {
    let sheet = PROCESS_PLATES.into_iter().chain(spots.iter().map(|spot| spot.name.as_str()));
    sheet.map(|name| plates.iter().position(|plate| plate.name() == name)).collect()
}

/// What a picture is scaled by for the eye.
fn light(placed: &PlacedPicture, context: &RasterContext<'_>) -> Option<LightScale> {
    let scale = || context.profile.light_scale(&placed.picture, placed.separation);
    context.for_the_eye.then(scale).flatten()
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
    use crate::assets::{Darkroom, Model, Picture, Pixels, Separation, TonedInk, Tones};
    use crate::ground::{Affine, Ink};
    use crate::raster::screen;
    use crate::raster::trial::{PPI, draw, picture, rect, scene, spot};
    use crate::scene::{Mark, PlacedPicture};
    use png::ColorType;
    use std::sync::Arc;

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
            let middle = &screen.row(6)[18..21];
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

    /// The same for ink, whose means are thinned: black alone, four inks beside paper, one ink beside another. The old way
    /// showed half the pixels black as 113, and four inks darker yet.
    #[test]
    fn fine_chequers_of_ink_show_the_mean_of_their_light() {
        let shown = |side: usize, inks: [[u8; 4]; 2]| {
            let samples: Vec<u8> = (0..side * side).flat_map(|at| inks[(at / side + at % side) % 2]).collect();
            let size = (side as u32, side as u32);
            let picture = Arc::new(Picture::of_samples("ink", Model::Cmyk, size, Pixels::opaque(samples)));
            let (transform, separation) = (Affine::scale(12.0), Separation::default());
            let mark = Mark::Picture(PlacedPicture { picture, transform, paint: None, separation });
            let scene = scene(12.0, 12.0, vec![mark]);
            let screen = screen(&scene, scene.sheet.trim, PPI, &Darkroom::default());
            let middle = &screen.row(6)[18..21];
            [middle[0], middle[1], middle[2]]
        };
        // IEC 61966-2-1, and the share of each channel in the light of a colour.
        let light = |rgb: [u8; 3]| -> f64 {
            let linear = rgb.map(|level| {
                let share = f64::from(level) / 255.0;
                if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
            });
            linear.iter().zip([0.2126, 0.7152, 0.0722]).map(|(light, share)| light * share).sum()
        };
        for (one, other) in [
            ([0, 0, 0, 255], [0; 4]),
            ([200, 160, 160, 255], [0; 4]),
            ([255, 120, 0, 0], [0, 0, 200, 0]),
            ([0, 200, 180, 40], [0, 20, 30, 0]),
        ] {
            let seen = [one, other].map(|inks| light(shown(1, [inks; 2])));
            let (mixed, mean) = (light(shown(24, [one, other])), f64::midpoint(seen[0], seen[1]));
            // One 255th of the screen is 0.006 of the light here, by the curve above; two of them.
            assert!((mixed - mean).abs() < 0.012, "{one:?} {other:?}: {mixed} for {mean}");
        }
        let even = [90, 40, 10, 60];
        assert_eq!(shown(24, [even; 2]), shown(1, [even; 2]), "one colour stays");
    }

    /// More plates than a press has process inks, upright and turned.
    #[test]
    fn a_toned_picture_lies_on_all_its_plates() {
        let toned = |transform: Affine| {
            let Mark::Picture(placed) = picture(1, 1, ColorType::Grayscale, &[0], transform, None) else {
                unreachable!("a picture")
            };
            let of = |ink: Ink, tint: f64| TonedInk { ink, points: vec![(0.0, 0.0), (1.0, tint)] };
            let inks = vec![
                of(Ink::process(0.2, 0.4, 0.6, 0.8), 1.0),
                of(Ink::spot(spot("Deep", false), 1.0), 0.5),
                of(Ink::spot(spot("Pale", false), 1.0), 0.25),
            ];
            let picture = Arc::new(placed.picture.toned(Tones::new(inks)));
            let ground = rect(0.0, 0.0, 12.0, 12.0, Ink::spot(spot("Pale", false), 1.0));
            draw(&scene(12.0, 12.0, vec![ground, Mark::Picture(PlacedPicture { picture, ..placed })]))
        };
        let solid = [51, 102, 153, 204, 128, 64];
        let upright = toned(Affine::new([4.0, 0.0, 0.0, 4.0, 2.0, 2.0]));
        assert_eq!((upright.at(3, 3), upright.at(8, 2)), (solid.to_vec(), vec![0, 0, 0, 0, 0, 255]));
        let turned = toned(Affine::translate((6.0, 0.0)) * Affine::rotate(0.2) * Affine::scale(20.0));
        let inked = turned.at(8, 8);
        assert!(inked.iter().zip(solid).all(|(one, other)| one.abs_diff(other) <= 1), "{inked:?}");
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
