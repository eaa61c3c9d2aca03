//! Pictures scaled in one way and in another.

use crate::assets::LightScale;
use crate::ground::{Affine, Vec2};
use crate::raster::grid::{Grid, Samples};
use crate::raster::resample::{resample, resample_pixels};
use crate::raster::window::Window;
use crate::raster::woven::woven;

/// Noise, opaque by its kind and by an alpha that says so: the quick way and the general one.
#[test]
fn opaque_pictures_are_scaled_alike_in_every_way() {
    const WIDTH: usize = 61;
    const HEIGHT: usize = 40;
    let mut seed = 3_u32;
    let mut noise = || {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (seed >> 24) as u8
    };
    let light = LightScale::new(&(0..256).map(|level| (f64::from(level) / 255.0).powf(2.2)).collect::<Vec<_>>());
    let opaque = vec![255; WIDTH * HEIGHT];
    for channels in [1, 3, 4, 5] {
        let samples: Vec<u8> = (0..WIDTH * HEIGHT * channels).map(|_| noise()).collect();
        for light in [None, Some(&light)] {
            for scale in [0.04, 0.21, 0.26, 0.34, 0.5, 0.77, 1.0, 1.6, -0.4] {
                let side = |length: usize| (length as f64 * f64::abs(scale)).ceil() as usize;
                let (width, height) = (side(WIDTH), side(HEIGHT));
                let grid = |alpha| Grid {
                    samples: Samples::Whole(&samples),
                    channels,
                    alpha,
                    width: WIDTH,
                    height: HEIGHT,
                    light,
                };
                let turned = if scale < 0.0 { Vec2::new(width as f64, height as f64) } else { Vec2::ZERO };
                let place = Affine::translate(turned) * Affine::scale(scale);
                let window = Window { x: width / 5, y: height / 7, width: width - width / 3, height: height / 2 };
                let quick = resample(&grid(None), place, window);
                let general = resample(&grid(Some(&opaque)), place, window);
                assert!(woven(&quick, channels) == resample_pixels(&grid(None), place, window));
                let (inks, alpha) = general.split_at(quick.len());
                assert!(quick.iter().zip(inks).all(|(a, b)| a.abs_diff(*b) <= 1), "{channels} {scale}");
                assert!(alpha.iter().all(|alpha| *alpha >= 254), "{channels} {scale}");
            }
        }
    }
}
