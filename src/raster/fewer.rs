//! Fewer pixels: a picture averaged down to a size: its light where it is in RGB or grey, its inks where it is in ink.

use crate::assets::{Picture, Pixels, Profile, Separation};
use crate::ground::Affine;
use crate::raster::pictures::woven;
use crate::raster::resample::{Grid, resample};
use crate::raster::window::Window;

/// Rows that are averaged at a time.
const BAND: usize = 128;
/// Alpha that was all or nothing stays so: from here on it shows.
const SHOWS: u8 = 128;

/// The pixels of a picture as `width` by `height` of them, no more than it has.
pub fn fewer_pixels(
    picture: &Picture,
    separation: Separation,
    profile: &Profile,
    (width, height): (u32, u32),
) -> Pixels {
    let light = profile.light_scale(picture, separation);
    let (samples, alpha) = (&picture.pixels().samples[..], picture.alpha());
    let grid = Grid {
        samples,
        channels: picture.model().channels(),
        alpha,
        width: picture.width() as usize,
        height: picture.height() as usize,
        light: light.as_ref(),
    };
    let scale = |to: u32, from: u32| f64::from(to) / f64::from(from);
    let place = Affine::scale_non_uniform(scale(width, picture.width()), scale(height, picture.height()));
    let (width, height) = (width as usize, height as usize);
    let mut few = Pixels { alpha: alpha.map(|_| Vec::new()), ..Pixels::opaque(Vec::new()) };
    let mut samples = Vec::with_capacity(width * height * grid.channels);
    for y in (0..height).step_by(BAND) {
        let window = Window { x: 0, y, width, height: BAND.min(height - y) };
        let planes = resample(&grid, place, window);
        let (levels, veil) = planes.split_at(grid.channels * window.area());
        samples.extend(woven(levels, grid.channels));
        few.alpha.iter_mut().for_each(|alpha| alpha.extend(veil));
    }
    few.samples = samples.into();
    if let (Some(few), Some(all)) = (&mut few.alpha, alpha)
        && crate::scene::is_stencil(all)
    {
        for share in few {
            *share = if *share >= SHOWS { 255 } else { 0 };
        }
    }
    few
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;

    fn png(colour: ::png::ColorType, side: u32, samples: &[u8]) -> Picture {
        let mut bytes = Vec::new();
        let mut encoder = ::png::Encoder::new(&mut bytes, side, side);
        encoder.set_color(colour);
        let written = encoder.write_header().and_then(|mut writer| writer.write_image_data(samples));
        written.expect("samples fill the picture");
        Picture::open("a.png", bytes.into()).expect("a picture")
    }

    fn few(picture: &Picture, side: u32) -> Pixels {
        let press = Profile::bundled("coated").expect("a bundled profile");
        fewer_pixels(picture, Separation::default(), &press, (side, side))
    }

    /// IEC 61966-2-1: half of the light of white is level 188 of sRGB.
    #[test]
    fn black_and_white_are_averaged_as_light_and_colours_stay() {
        let chequer: Vec<u8> = (0..16).flat_map(|at| [if (at / 4 + at % 4) % 2 == 0 { 0 } else { 255 }; 3]).collect();
        assert_eq!(**few(&png(::png::ColorType::Rgb, 4, &chequer), 2).samples, [188; 12]);
        let flat: Vec<u8> = (0..300 * 300).flat_map(|_| [200, 30, 40]).collect();
        let half = few(&png(::png::ColorType::Rgb, 300, &flat), 150);
        assert_eq!(half.samples.len(), 150 * 150 * 3);
        assert!(half.samples.chunks(3).all(|pixel| pixel == [200, 30, 40]));
    }

    #[test]
    fn cut_outs_keep_their_hard_edge_and_soft_ones_are_averaged() {
        let cut: Vec<u8> = (0..9).flat_map(|at| [90, if at % 3 == 0 { 255 } else { 0 }]).collect();
        let alpha = few(&png(::png::ColorType::GrayscaleAlpha, 3, &cut), 2).alpha.expect("it has holes");
        assert_eq!(alpha, [255, 0, 255, 0]);
        let soft: Vec<u8> = (0..4).flat_map(|at| [90, [0, 100, 200, 100][at]]).collect();
        let small = few(&png(::png::ColorType::GrayscaleAlpha, 2, &soft), 1);
        assert_eq!((small.alpha, small.samples), (Some(vec![100]), Arc::new(vec![90])));
    }
}
