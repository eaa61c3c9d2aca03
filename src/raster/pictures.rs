//! Pictures in the pixels of the sheet: turned into ink, scaled, remembered in the darkroom.

use crate::assets::{Darkroom, Profile};
use crate::ground::{Affine, Digest};
use crate::raster::layer::Lay;
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
pub fn scaled(
    placed: &PlacedPicture,
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
        None => (Profile::press_model(picture.model()).channels(), picture.alpha().is_some()),
    };
    let key = key(placed, from_samples, window, profile);
    // A spine of another width moves it by part of a pixel: to scale it again is quicker than to keep every place of it.
    let samples = darkroom.stream(key, || {
        if placed.paint.is_some() {
            let veil = picture.darkness();
            let grid = Grid { samples: &[], channels: 0, alpha: Some(&veil), width, height };
            resample(&grid, from_samples, window)
        } else {
            let negative = darkroom.negative(picture, profile);
            let alpha = picture.alpha();
            let grid = Grid { samples: &negative.samples, channels: inks, alpha, width, height };
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

fn key(placed: &PlacedPicture, from_samples: Affine, window: Window, profile: &Profile) -> Digest {
    let mut place = from_samples.as_coeffs().map(f64::to_le_bytes).concat();
    place.extend([window.x, window.y, window.width, window.height].map(|edge| (edge as u64).to_le_bytes()).concat());
    place.push(u8::from(placed.paint.is_some()));
    Digest::of_all(&[b"scaled", placed.picture.digest().bytes(), profile.digest().bytes(), &place])
}

#[cfg(test)]
mod tests {
    use crate::ground::{Affine, Ink};
    use crate::raster::trial::{draw, picture, rect, scene};
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
