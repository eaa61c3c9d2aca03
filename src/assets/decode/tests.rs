//! Small pictures of every kind, written by other encoders (`tests/pictures/make.py`, or `png` and `image`), read back.

use super::*;
use crate::assets::{Model, Picture, StatedColours};
use crate::ground::Digest;
use image::{ImageEncoder, ImageFormat};
use std::io::Cursor;
use std::sync::Arc;

macro_rules! stored {
    ($name:literal) => {
        open($name, include_bytes!(concat!("../../../tests/pictures/", $name)))
    };
}

#[test]
fn tiffs_keep_every_sample() {
    let wanted = |channels: usize, kept: usize| -> Vec<u8> {
        let at = |at: usize| (60 * (at / channels % 4) + 30 * (at / channels / 4) + 17 * (at % channels)) as u8;
        (0..12 * channels).filter(|sample| sample % channels < kept).map(at).collect()
    };
    let alpha = |channels: usize| -> Vec<u8> {
        let all = wanted(channels, channels);
        all.chunks(channels).map(|pixel| pixel[channels - 1]).collect()
    };
    let facts = |picture: Result<Picture, PictureFault>| {
        let picture = picture.expect("reads");
        assert_eq!((picture.width(), picture.height(), picture.format()), (4, 3, PictureFormat::Tiff));
        let pixels = picture.pixels();
        (picture.model(), picture.bits(), pixels.samples.to_vec(), pixels.alpha.clone(), picture.ppi())
    };
    let (grey, rgb, cmyk) = (Model::Grey, Model::Rgb, Model::Cmyk);
    assert_eq!(facts(stored!("cmyk-8.tif")), (cmyk, 8, wanted(4, 4), None, Some(300.0)));
    assert_eq!(facts(stored!("cmyk-16-big-endian.tif")), (cmyk, 16, wanted(4, 4), None, Some(118.0 * 2.54)));
    assert_eq!(facts(stored!("cmyk-alpha.tif")), (cmyk, 8, wanted(5, 4), Some(alpha(5)), None));
    assert_eq!(facts(stored!("rgb-16.tif")), (rgb, 16, wanted(3, 3), None, None));
    assert_eq!(facts(stored!("rgb-lzw.tif")), (rgb, 8, wanted(3, 3), None, None));
    assert_eq!(facts(stored!("rgb-alpha.tif")), (rgb, 8, wanted(4, 3), Some(alpha(4)), None));
    assert_eq!(facts(stored!("rgb-other.tif")), (rgb, 8, wanted(4, 3), None, None));
    assert_eq!(facts(stored!("grey-alpha.tif")), (grey, 8, wanted(2, 1), Some(alpha(2)), None));
    assert_eq!(facts(stored!("grey-16.tif")), (grey, 16, wanted(1, 1), None, None));
    let inverted = wanted(1, 1).iter().map(|grey| 255 - grey).collect();
    assert_eq!(facts(stored!("grey-white-is-zero.tif")), (grey, 8, inverted, None, None));
}

#[test]
fn line_art_is_one_bit_and_unpacked() {
    for picture in [stored!("line-art.tif"), stored!("line-art-fax.tif")] {
        let picture = picture.expect("reads");
        assert_eq!((picture.model(), picture.bits(), picture.width()), (Model::Grey, 1, 10));
        let drawn: String = picture.pixels().samples.iter().map(|grey| if *grey == 255 { '1' } else { '0' }).collect();
        assert_eq!(drawn, "10110001100100111001");
    }
    assert_eq!(stored!("line-art.tif").expect("reads").ppi(), Some(1200.0));
}

#[test]
fn mixed_alpha_comes_straight() {
    let picture = stored!("rgb-mixed.tif").expect("reads");
    assert_eq!(*picture.pixels().samples, [199, 100, 50, 200, 100, 0]);
    assert_eq!(picture.pixels().alpha.as_deref(), Some(&[128, 255][..]));
}

#[test]
fn what_tiff_we_do_not_read_says_the_way_out() {
    let fault = stored!("cmyk-planar.tif").expect_err("planes");
    assert_eq!(fault.message, "a TIFF stored plane by plane");
    assert!(fault.help.contains("interleaved"));
    assert!(stored!("float.tif").expect_err("floats").message.contains("32 bits"));
    assert!(stored!("palette.tif").expect_err("a palette").help.contains("RGB"));
}

#[test]
fn cmyk_jpegs_count_ink() {
    // Pillow 13.0.0 reads those with an APP14 marker so. A file without the marker counts ink as it stands (common
    // practice; Pillow takes every file for one with it), so there it is the other way round.
    let inks = [[255, 0, 0, 0], [0, 200, 100, 0], [10, 20, 30, 250], [128, 64, 32, 16]];
    for (picture, tolerance) in
        [(stored!("cmyk-app14.jpg"), 0), (stored!("cmyk-progressive.jpg"), 0), (stored!("ycck.jpg"), 3)]
    {
        let picture = picture.expect("reads");
        assert_eq!((picture.model(), picture.bits(), passed(&picture)), (Model::Cmyk, 8, Some(["cmyk", "paper"])));
        squares(&picture, inks, tolerance);
    }
    let plain = stored!("cmyk-plain.jpg").expect("reads");
    assert_eq!(passed(&plain), Some(["cmyk", "ink"]));
    squares(&plain, inks.map(|colour| colour.map(|ink| 255 - ink)), 0);
}

#[test]
fn jpegs_in_light_and_their_heads() {
    let lights = [[255, 0, 0], [20, 180, 90], [10, 20, 30], [240, 230, 128]];
    let unturned = stored!("rgb-unturned-channels.jpg").expect("reads");
    squares(&unturned, lights, 1);
    assert_eq!((passed(&unturned), unturned.ppi()), (None, None));

    let grey = stored!("grey.jpg").expect("reads");
    squares(&grey, [[255], [0], [100], [200]], 1);
    assert_eq!((passed(&grey), grey.ppi()), (Some(["grey", "ink"]), Some(150.0)));

    // Stored lying, 16 x 8; EXIF says 6: the first row is the right side.
    let turned = stored!("rgb-turned.jpg").expect("reads");
    assert_eq!((turned.width(), turned.height(), turned.ppi()), (8, 16, Some(240.0)));
    let pixel = |y: usize| &turned.pixels().samples[(y * 8 + 4) * 3..][..3];
    near(pixel(4), &lights[0], 1);
    near(pixel(12), &lights[1], 1);
    assert!(matches!(turned.space(), StatedColours::Profile(bytes) if bytes[36..40] == *b"acsp"));
}

#[test]
fn pngs_say_what_their_colours_are() {
    let png = |state: &dyn Fn(&mut ::png::Info<'_>)| {
        let mut info = ::png::Info::with_size(1, 1);
        (info.color_type, info.bit_depth) = (::png::ColorType::Rgb, ::png::BitDepth::Eight);
        state(&mut info);
        let mut file = Vec::new();
        let encoder = ::png::Encoder::with_info(&mut file, info).expect("an encoder");
        encoder.write_header().and_then(|mut writer| writer.write_image_data(&[1, 2, 3])).expect("a pixel");
        open("a.png", &file).expect("reads").space().clone()
    };
    let gamma = |gamma| Some(::png::ScaledFloat::new(gamma));
    let places = |white, red| ::png::SourceChromaticities::new(white, red, (0.3, 0.6), (0.15, 0.06));
    let (white, red) = ((0.3127, 0.329), (0.64, 0.33));
    assert_eq!(png(&|_| {}), StatedColours::Unstated);
    assert_eq!(png(&|info| info.srgb = Some(::png::SrgbRenderingIntent::Perceptual)), StatedColours::Srgb);
    // PNG, 11.3.3: what a writer of sRGB states for readers that do not know of it.
    assert_eq!(png(&|info| info.source_gamma = gamma(0.45455)), StatedColours::Srgb);
    assert!(matches!(
        png(&|info| info.source_gamma = gamma(1.0)),
        StatedColours::Light { gamma: 1.0, primaries: None }
    ));
    let wide = png(&|info| {
        info.source_gamma = gamma(0.45455);
        info.source_chromaticities = Some(places(white, (0.7, 0.3)));
    });
    let StatedColours::Light { gamma, primaries: Some(primaries) } = wide else { panic!("{wide:?}") };
    assert!((gamma - 2.2).abs() < 1e-3 && (primaries.red[0] - 0.7).abs() < 1e-5, "{gamma} {primaries:?}");
    assert_eq!(png(&|info| info.source_chromaticities = Some(places(white, red))), StatedColours::Srgb);
    // A profile stands before both; one for other colours cannot be used.
    let cmyk: &[u8] = include_bytes!("../profiles/coated-fogra39.icc");
    let foreign = png(&|info| info.icc_profile = Some(cmyk.into()));
    assert!(matches!(&foreign, StatedColours::Unusable(why) if why.contains("CMYK")), "{foreign:?}");
}

#[test]
fn pngs_of_every_depth() {
    let samples: Vec<u8> = (0..24).map(|at| (at * 11) as u8).collect();
    let words: Vec<u8> = samples.iter().flat_map(|sample| [*sample, *sample]).collect();
    for (colour, model, channels, alpha) in [
        (::png::ColorType::Grayscale, Model::Grey, 1, false),
        (::png::ColorType::GrayscaleAlpha, Model::Grey, 2, true),
        (::png::ColorType::Rgb, Model::Rgb, 3, false),
        (::png::ColorType::Rgba, Model::Rgb, 4, true),
    ] {
        let width = 24 / channels / 2;
        for (depth, bits, bytes) in [(::png::BitDepth::Eight, 8, &samples), (::png::BitDepth::Sixteen, 16, &words)] {
            let picture = open("a.png", &png((width as u32, 2), colour, depth, bytes, |_| {})).expect("reads");
            assert_eq!((picture.model(), picture.bits(), picture.width()), (model, bits, width as u32));
            let pixels = picture.pixels();
            let kept = samples.chunks(channels).flat_map(|pixel| &pixel[..model.channels()]).copied();
            assert_eq!(*pixels.samples, kept.collect::<Vec<u8>>());
            assert_eq!(pixels.alpha.is_some(), alpha);
        }
    }
    let line_art =
        open("a.png", &png((4, 2), ::png::ColorType::Grayscale, ::png::BitDepth::One, &[0x90, 0x60], |_| {}));
    let line_art = line_art.expect("reads");
    assert_eq!((line_art.bits(), &line_art.pixels().samples[..]), (1, &[255, 0, 0, 255, 0, 255, 255, 0][..]));
}

#[test]
fn pngs_with_palette_and_resolution() {
    let palette = png((4, 1), ::png::ColorType::Indexed, ::png::BitDepth::Two, &[0b00_01_10_00], |encoder| {
        encoder.set_palette(vec![1, 2, 3, 4, 5, 6, 7, 8, 9]);
        encoder.set_trns(vec![255, 128]);
        let unit = ::png::Unit::Meter;
        encoder.set_pixel_dims(Some(::png::PixelDimensions { xppu: 11_811, yppu: 11_811, unit }));
    });
    let picture = open("a.png", &palette).expect("reads");
    assert_eq!((picture.model(), picture.bits()), (Model::Rgb, 8));
    assert_eq!(*picture.pixels().samples, [1, 2, 3, 4, 5, 6, 7, 8, 9, 1, 2, 3]);
    assert_eq!(picture.pixels().alpha.as_deref(), Some(&[255, 128, 255, 255][..]));
    assert!((picture.ppi().expect("stated") - 300.0).abs() < 0.01);
}

#[test]
fn interlaced_pngs_come_in_their_rows() {
    let picture = stored!("rgb-interlaced.png").expect("reads");
    assert_eq!((picture.width(), picture.height(), picture.model()), (12, 9, Model::Rgb));
    for (at, pixel) in picture.pixels().samples.chunks(3).enumerate() {
        let wanted = |channel: usize| (60 * (at % 12 / 3) + 30 * (at / 12 / 3) + 17 * channel) as u8;
        assert_eq!(pixel, [wanted(0), wanted(1), wanted(2)], "pixel {at}");
    }
}

#[test]
fn webp_lossless_with_alpha() {
    let mut bytes = Vec::new();
    let samples: Vec<u8> = (0..4 * 6).map(|at| (at * 10 + 1) as u8).collect();
    let encoder = image::codecs::webp::WebPEncoder::new_lossless(&mut bytes);
    encoder.write_image(&samples, 3, 2, image::ExtendedColorType::Rgba8).expect("writes to memory");
    let picture = open("a.webp", &bytes).expect("reads");
    assert_eq!((picture.model(), picture.format(), picture.height()), (Model::Rgb, PictureFormat::Webp, 2));
    assert_eq!(picture.pixels().samples[..6], [1, 11, 21, 41, 51, 61]);
    assert_eq!(picture.pixels().alpha.as_deref(), Some(&[31, 71, 111, 151, 191, 231][..]));
}

mod faults;
mod sampled;
mod walks;

/// Turned files, too: what is read before the pixels, and the pixels once they are asked for.
#[test]
fn a_jpeg_opened_again_is_the_same_picture() {
    let plain = sample(ImageFormat::Jpeg);
    for orientation in 1..=8 {
        // EXIF 2.3: one entry, 0x0112, a short.
        let mut exif = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
        exif.extend([orientation, 0, 0, 0, 0, 0, 0]);
        let length = (exif.len() as u16 + 2).to_be_bytes();
        let file = [&plain[..2], &[0xff, 0xe1], &length, &exif, &plain[2..]].concat();
        let first = open("a.jpg", &file).expect("opens");
        let sum = Digest::of_file(&file);
        let again = Picture::open_again("a.jpg", Arc::from(&file[..]), sum, first.is_neutral()).expect("opens again");
        assert!(first.pixels_can_wait());
        let facts = |picture: &Picture| (picture.width(), picture.height(), picture.ppi(), picture.file_sum());
        assert_eq!(facts(&again), facts(&first), "{orientation}");
        assert_eq!((first.width() == 40, again.alpha()), (orientation < 5, None), "{orientation}");
        assert!(again.pixels() == first.pixels(), "{orientation}");
    }
}

/// Small and busy.
fn sample(format: ImageFormat) -> Vec<u8> {
    let picture = image::RgbImage::from_fn(40, 30, |x, y| image::Rgb([(x * y) as u8, (x * 31) as u8, (y * 57) as u8]));
    let mut bytes = Vec::new();
    picture.write_to(&mut Cursor::new(&mut bytes), format).expect("writes to memory");
    bytes
}

fn open(name: &str, bytes: &[u8]) -> Result<Picture, PictureFault> {
    Picture::open(name, Arc::from(bytes))
}

fn png(
    size: (u32, u32),
    colour: ::png::ColorType,
    depth: ::png::BitDepth,
    samples: &[u8],
    more: impl Fn(&mut ::png::Encoder<'_, &mut Vec<u8>>),
) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut bytes, size.0, size.1);
    encoder.set_color(colour);
    encoder.set_depth(depth);
    more(&mut encoder);
    let mut writer = encoder.write_header().expect("writes to memory");
    writer.write_image_data(samples).expect("writes to memory");
    drop(writer);
    bytes
}

/// What may stand in a PDF as it is: in which colours, and what they count.
fn passed(picture: &Picture) -> Option<[&'static str; 2]> {
    let stream = picture.jpeg_passthrough()?;
    Some([if stream.grey { "grey" } else { "cmyk" }, if stream.inverted { "paper" } else { "ink" }])
}

/// Four flat squares of 8 pixels.
fn squares<const CHANNELS: usize>(picture: &Picture, colours: [[u8; CHANNELS]; 4], tolerance: u8) {
    assert_eq!((picture.width(), picture.height()), (16, 16));
    for (at, pixel) in picture.pixels().samples.as_chunks::<CHANNELS>().0.iter().enumerate() {
        near(pixel, &colours[at % 16 / 8 + at / 16 / 8 * 2], tolerance);
    }
}

fn near(found: &[u8], wanted: &[u8], tolerance: u8) {
    let close = found.iter().zip(wanted).all(|(found, wanted)| found.abs_diff(*wanted) <= tolerance);
    assert!(found.len() == wanted.len() && close, "{found:?}, not {wanted:?}");
}
