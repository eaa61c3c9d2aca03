//! Fewer pixels: a picture averaged down to a size: its light where it is in RGB or grey, its inks where it is in ink.

use crate::assets::{LightScale, Picture, Pixels, Profile, Separation};
use crate::ground::Affine;
use crate::raster::fewer_words::fewer_words;
use crate::raster::grid::{Grid, Samples};
use crate::raster::hidden::nearest_shown;
use crate::raster::resample::resample;
use crate::raster::window::Window;
use crate::raster::woven::woven;
use std::ops::Range;

/// Rows that are averaged at a time.
const BAND: usize = 128;
/// Alpha that was all or nothing stays so: from here on it shows.
const SHOWS: u8 = 128;

/// Some rows of the pixels of a picture as `width` by `height` of them, no more than it has; without alpha.
pub fn fewer_pixels(
    picture: &Picture,
    (separation, profile): (Separation, &Profile),
    size: (u32, u32),
    rows: Range<usize>,
) -> Pixels {
    let light = profile.light_scale(picture, separation);
    // A steep curve needs more of a tone than 8 bits.
    if picture.tones().is_some() && picture.bits() > 8 {
        return fewer_words(picture, light.as_ref(), size, rows);
    }
    let channels = picture.model().channels();
    let whole = whole(picture, Samples::Whole(&picture.pixels().samples), light.as_ref());
    let width = size.0 as usize;
    let mut samples = Vec::with_capacity(width * rows.len() * channels);
    scaled(&whole, size, rows, |window, mut planes| {
        if picture.alpha().is_some() {
            fill_hidden(&mut planes, window, channels);
        }
        samples.extend(woven(&planes[..channels * window.area()], channels));
    });
    Pixels::opaque(samples)
}

/// Gives pixels of which nothing shows the colour of one that does.
fn fill_hidden(planes: &mut [u8], window: Window, channels: usize) {
    let (samples, veil) = planes.split_at_mut(channels * window.area());
    for (row, veil) in veil.chunks_exact(window.width).enumerate() {
        let shown = nearest_shown(veil.iter().map(|share| *share > 0));
        for channel in 0..channels {
            let line = &mut samples[channel * window.area() + row * window.width..][..window.width];
            (0..line.len()).for_each(|at| line[at] = line[shown[at]]);
        }
    }
}

/// The alpha of the same, if it has one.
pub fn fewer_alpha(picture: &Picture, size: (u32, u32)) -> Option<Vec<u8>> {
    let all = picture.alpha()?;
    let whole = Grid { channels: 0, ..whole(picture, Samples::Whole(&[]), None) };
    let mut few = Vec::with_capacity(size.0 as usize * size.1 as usize);
    scaled(&whole, size, 0..size.1 as usize, |_, veil| few.extend(veil));
    if crate::scene::is_stencil(all) {
        for share in &mut few {
            *share = if *share >= SHOWS { 255 } else { 0 };
        }
    }
    Some(few)
}

fn whole<'a>(picture: &'a Picture, samples: Samples<'a>, light: Option<&'a LightScale>) -> Grid<'a> {
    Grid {
        samples,
        channels: picture.model().channels(),
        alpha: picture.alpha(),
        width: picture.width() as usize,
        height: picture.height() as usize,
        light,
    }
}

/// Hands over rows of the scaled picture, band by band, plane after plane.
fn scaled(whole: &Grid<'_>, (width, height): (u32, u32), rows: Range<usize>, mut take: impl FnMut(Window, Vec<u8>)) {
    let scale = |to: u32, from: usize| f64::from(to) / from as f64;
    let place = Affine::scale_non_uniform(scale(width, whole.width), scale(height, whole.height));
    for y in rows.clone().step_by(BAND) {
        let window = Window { x: 0, y, width: width as usize, height: BAND.min(rows.end - y) };
        take(window, resample(whole, place, window));
    }
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
        let rows = |rows| fewer_pixels(picture, (Separation::default(), &press), (side, side), rows);
        let (whole, side) = (rows(0..side as usize), side as usize);
        // Rows by themselves are the rows of the whole.
        let apart: Vec<u8> = (0..side).flat_map(|row| rows(row..row + 1).samples.to_vec()).collect();
        assert!(apart == **whole.samples);
        Pixels { alpha: fewer_alpha(picture, (side as u32, side as u32)), ..whole }
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

    /// Written as black where nothing shows, as many programs leave it.
    #[test]
    fn what_is_hidden_has_the_colour_of_what_shows_beside_it() {
        let cut: Vec<u8> = (0..64).flat_map(|at| if at % 8 < 4 { [0, 0] } else { [90, 255] }).collect();
        let small = few(&png(::png::ColorType::GrayscaleAlpha, 8, &cut), 4);
        assert_eq!(**small.samples, [90; 16]);
        assert_eq!(small.alpha.expect("it has holes")[..4], [0, 0, 255, 255]);
    }

    /// The same in 16 bits, as tones ask for them.
    #[test]
    fn what_is_hidden_has_it_in_sixteen_bits_too() {
        let pixel = |at: usize| if at % 8 < 4 { [0_u16, 0] } else { [23_130, 65_535] };
        let samples: Vec<u8> = (0..64).flat_map(pixel).flat_map(u16::to_be_bytes).collect();
        let mut bytes = Vec::new();
        let mut encoder = ::png::Encoder::new(&mut bytes, 8, 8);
        encoder.set_color(::png::ColorType::GrayscaleAlpha);
        encoder.set_depth(::png::BitDepth::Sixteen);
        let written = encoder.write_header().and_then(|mut writer| writer.write_image_data(&samples));
        written.expect("samples fill the picture");
        let picture = Picture::open("a.png", bytes.into()).expect("a picture");
        let words = fewer_words(&picture, None, (4, 4), 0..4).words(0..16);
        assert!(words.iter().all(|word| word.abs_diff(23_130) <= 2), "{words:?}");
    }

    /// A tenth of all levels, in 16 bits: 6,553 of them, in 8 bits 26. Half as wide, neighbours are averaged, and each column
    /// has a tone of its own.
    #[test]
    fn sixteen_bits_in_tones_keep_their_steps() {
        let side = 400_u32;
        let word = |column: u32| (26_214 + column * 6_553 / side) as u16;
        let samples: Vec<u8> = (0..side).flat_map(|_| (0..side).flat_map(move |x| word(x).to_be_bytes())).collect();
        let mut bytes = Vec::new();
        let mut encoder = ::png::Encoder::new(&mut bytes, side, side);
        encoder.set_color(::png::ColorType::Grayscale);
        encoder.set_depth(::png::BitDepth::Sixteen);
        let written = encoder.write_header().and_then(|mut writer| writer.write_image_data(&samples));
        written.expect("samples fill the picture");
        let picture = Picture::open("a.png", bytes.into()).expect("a picture");
        let press = Profile::bundled("coated").expect("a bundled profile");
        let light = press.light_scale(&picture, Separation::default());
        let few = fewer_words(&picture, light.as_ref(), (200, 100), 3..5);
        let words = few.words(0..400);
        assert_eq!(words[..200], words[200..]);
        assert!(words[..200].windows(2).all(|pair| pair[0] < pair[1]), "{words:?}");
        for (column, found) in (0..).step_by(2).zip(&words[..200]) {
            let mean = u32::midpoint(word(column).into(), word(column + 1).into());
            assert!(u32::from(*found).abs_diff(mean) <= 2, "{column}: {found}, {mean}");
        }
    }
}
