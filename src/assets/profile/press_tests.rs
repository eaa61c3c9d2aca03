//! Pictures in ink: against the engine without its shortcuts, and against the colours that they stand for.

use super::*;
use crate::assets::profile::turn::{Turn, compensating};
use crate::assets::profile::walk::TableWalk;
use crate::assets::{Inking, Picture, PicturePlate, Pixels, RenderingIntent, StatedColours, TonedInk, Tones};
use lcms2::{CIExyY, CIExyYTRIPLE, PixelFormat, ToneCurve};
use png::ColorType;
use std::borrow::Cow;
use tiff::encoder::{TiffEncoder, colortype};

fn press(name: &str) -> Profile {
    Profile::bundled(name).expect("bundled")
}

/// What the engine makes of colours in its full precision, 255 a solid.
fn wanted(source: &Icc, press: &Profile, separation: Separation, colours: &[[f64; 3]]) -> Vec<[f64; 4]> {
    let press = opened(press.bytes()).expect("a press profile");
    let (from, to) = ((source, PixelFormat::RGB_DBL), (&press, PixelFormat::CMYK_DBL));
    let turn: Turn<[f64; 3], [f64; 4]> = compensating(from, to, separation).expect("a way");
    let mut inks = vec![[0.0; 4]; colours.len()];
    turn.transform_pixels(colours, &mut inks);
    inks.into_iter().map(|inks| inks.map(|ink| ink.clamp(0.0, 100.0) * 2.55)).collect()
}

fn most_astray(ours: &[u8], theirs: &[[f64; 4]]) -> f64 {
    let off = ours.iter().zip(theirs.as_flattened()).map(|(one, other)| (f64::from(*one) - other).abs());
    off.fold(0.0, f64::max)
}

/// A profile of RGB with wide colours and a plain exponent.
fn wide() -> Icc {
    let place = |x, y| CIExyY { x, y, Y: 1.0 };
    let colours = CIExyYTRIPLE { Red: place(0.64, 0.33), Green: place(0.21, 0.71), Blue: place(0.15, 0.06) };
    let curve = ToneCurve::new(2.2);
    Icc::new_rgb_context(GlobalContext::new(), &place(0.3127, 0.329), &colours, &[&curve, &curve, &curve])
        .expect("a profile")
}

#[test]
fn a_dense_grid_lies_within_a_255th_of_the_engine_without_its_shortcuts() {
    let levels = || (0..=255_u8).step_by(15);
    let grid: Vec<[u8; 3]> =
        levels().flat_map(|r| levels().flat_map(move |g| levels().map(move |b| [r, g, b]))).collect();
    let shares: Vec<[f64; 3]> = grid.iter().map(|rgb| rgb.map(|level| f64::from(level) / 255.0)).collect();
    let pixels = Pixels::opaque(grid.as_flattened().to_vec());
    let intents = [RenderingIntent::Relative, RenderingIntent::Perceptual, RenderingIntent::Saturation];
    for name in Profile::BUNDLED {
        let press = press(name);
        let icc = opened(press.bytes()).expect("a press profile");
        for (source, intent) in intents.into_iter().flat_map(|intent| [(srgb(), intent), (wide(), intent)]) {
            for keeps_black_point in [false, true] {
                let separation = Separation { intent, keeps_black_point, ..Separation::default() };
                let walk =
                    TableWalk::new(&source, &icc, press.bytes(), separation, false).expect("tables of this kind");
                let ours = RgbTurn::Walk(Box::new(walk)).separate(&pixels);
                let most = most_astray(&ours, &wanted(&source, &press, separation, &shares));
                assert!(most < 0.6, "{name} {separation:?}: {most}");
            }
        }
    }
}

#[test]
fn a_profile_of_another_kind_keeps_the_engine_and_its_precision() {
    let press = press("coated");
    let icc = opened(press.bytes()).expect("a press profile");
    let absolute = Separation { intent: RenderingIntent::Absolute, ..Separation::default() };
    assert!(TableWalk::new(&srgb(), &icc, press.bytes(), absolute, false).is_none());
    let turn = RgbTurn::new(&srgb(), &icc, press.bytes(), absolute, false).expect("a way");
    let grid: Vec<[u8; 3]> =
        (0..3000_u32).map(|at| [at * 7, at * 11, at * 13].map(|level| (level % 256) as u8)).collect();
    let shares: Vec<[f64; 3]> = grid.iter().map(|rgb| rgb.map(|level| f64::from(level) / 255.0)).collect();
    let ours = turn.separate(&Pixels::opaque(grid.as_flattened().to_vec()));
    let most = most_astray(&ours, &wanted(&srgb(), &press, absolute, &shares));
    assert!(most < 0.6, "{most}");
}

#[test]
fn a_swatch_and_a_picture_of_one_colour_are_the_same_ink() {
    let press = press("coated");
    let colours: Vec<[u8; 3]> =
        (0..1500_u32).map(|at| [at * 37, at * 91 + 5, at * 151 + 9].map(|level| (level % 256) as u8)).collect();
    let inks = press.usual().separate(&Pixels::opaque(colours.as_flattened().to_vec()));
    for (colour, inks) in colours.iter().zip(inks.as_chunks::<4>().0) {
        let (swatch, _) = press.press_colour(*colour);
        assert_eq!(swatch.map(|ink| (ink * 255.0).round() as u8), *inks, "{colour:?}");
        // A tenth of a per cent, as the manual says.
        assert!(swatch.iter().all(|ink| (ink * 1000.0 - (ink * 1000.0).round()).abs() < 1e-9));
    }
}

fn png(colour: ColorType, depth: png::BitDepth, samples: &[u8], state: impl FnOnce(&mut png::Info<'_>)) -> Picture {
    let channels = if colour == ColorType::Rgb { 3 } else { 1 };
    let bytes = if depth == png::BitDepth::Sixteen { 2 } else { 1 };
    let mut info = png::Info::with_size((samples.len() / channels / bytes) as u32, 1);
    (info.color_type, info.bit_depth) = (colour, depth);
    state(&mut info);
    let mut file = Vec::new();
    let encoder = png::Encoder::with_info(&mut file, info).expect("an encoder");
    encoder.write_header().and_then(|mut writer| writer.write_image_data(samples)).expect("samples fill the picture");
    Picture::open("a.png", file.into()).expect("a picture")
}

fn lightness(press: &Profile, black: u8) -> f64 {
    press.lab([0.0, 0.0, 0.0, f64::from(black) / 255.0])[0]
}

#[test]
fn greys_print_as_light_as_they_say() {
    let press = press("coated");
    let kept = Separation { keeps_black_point: true, ..Separation::default() };
    // CIE 15: L of 109/255 of white's light.
    let linear = png(ColorType::Grayscale, png::BitDepth::Eight, &[109], |info| {
        let profile = Icc::new_gray_context(GlobalContext::new(), &turn::D50, &ToneCurve::new(1.0)).expect("a profile");
        info.icc_profile = Some(Cow::from(profile.icc().expect("bytes")));
    });
    let found = lightness(&press, press.press_pixels(&linear, kept)[0]);
    assert!((found - 71.4).abs() < 0.3, "{found}; its numbers alone would print {}", lightness(&press, 255 - 109));
    // The same by PNG's own statement, which counts the exponent the other way.
    let stated = png(ColorType::Grayscale, png::BitDepth::Eight, &[109], |info| {
        info.source_gamma = Some(png::ScaledFloat::new(1.0));
    });
    assert_eq!(press.press_pixels(&stated, kept), press.press_pixels(&linear, kept));
    // With the black points matched, screen black is solid and white bare paper.
    let ends = png(ColorType::Rgb, png::BitDepth::Eight, &[0, 0, 0, 255, 255, 255, 128, 128, 128], |_| {});
    assert!(ends.is_neutral());
    assert_eq!(press.picture_plates(&ends, Separation::default()), PicturePlate::black());
    let inks = press.press_pixels(&ends, Separation::default());
    assert_eq!(inks[..2], [255, 0]);
    assert_eq!((press.black_alone(128) * 255.0).round() as u8, inks[2]);
    // A grey file that says sRGB means the same; one that says nothing is black ink already.
    let grey = |state: fn(&mut png::Info<'_>)| png(ColorType::Grayscale, png::BitDepth::Eight, &[0, 255, 128], state);
    let srgb = grey(|info| info.srgb = Some(png::SrgbRenderingIntent::Perceptual));
    assert_eq!(press.press_pixels(&srgb, Separation::default()), inks);
    assert_eq!(*press.press_pixels(&grey(|_| {}), Separation::default()), [255, 0, 127]);
    let numbers = Separation { inking: Inking::AsTheyAre, ..Separation::default() };
    assert_eq!(*press.press_pixels(&linear, numbers), [255 - 109]);
    // In four inks, where the placing says so.
    let four = Separation { inking: Inking::FourColour, ..Separation::default() };
    assert_eq!(press.picture_plates(&ends, four), PicturePlate::process());
    assert_eq!(
        press.press_pixels(&ends, four)[8..],
        press.press_pixels(&png(ColorType::Rgb, png::BitDepth::Eight, &[128, 128, 128, 9, 8, 7], |_| {}), four)[..4]
    );
}

#[test]
fn sixteen_bits_are_kept_until_they_are_ink() {
    let press = press("coated");
    // Dark greys of linear light: in eight bits they are 0, 1 and 1.
    let words = [100_u16, 200, 300].map(u16::to_be_bytes).concat();
    let deep = png(ColorType::Grayscale, png::BitDepth::Sixteen, &words, |info| {
        info.source_gamma = Some(png::ScaledFloat::new(1.0));
    });
    let inks = press.press_pixels(&deep, Separation::default());
    assert!(inks[0] > inks[1] && inks[1] > inks[2], "{inks:?}");
    let colours: Vec<[u16; 3]> =
        (0..500_u32).map(|at| [at * 131, at * 97 + 3, at * 51 + 7].map(|word| (word % 65_536) as u16)).collect();
    let samples: Vec<u8> = colours.as_flattened().iter().flat_map(|word| word.to_be_bytes()).collect();
    let deep = png(ColorType::Rgb, png::BitDepth::Sixteen, &samples, |_| {});
    let shares: Vec<[f64; 3]> = colours.iter().map(|rgb| rgb.map(|word| f64::from(word) / 65_535.0)).collect();
    let theirs = wanted(&srgb(), &press, Separation::default(), &shares);
    let most = most_astray(&press.press_pixels(&deep, Separation::default()), &theirs);
    assert!(most < 0.6, "{most}");
}

fn cmyk(samples: &[u8], profile: &[u8]) -> Picture {
    let mut file = std::io::Cursor::new(Vec::new());
    let mut encoder = TiffEncoder::new(&mut file).expect("an encoder");
    let mut image = encoder.new_image::<colortype::CMYK8>(samples.len() as u32 / 4, 1).expect("an image");
    image.encoder().write_tag(tiff::tags::Tag::IccProfile, profile).expect("a tag");
    image.write_data(samples).expect("samples fill the picture");
    Picture::open("a.tif", file.into_inner().into()).expect("a picture")
}

#[test]
fn inks_of_another_press_are_converted_to_those_that_look_the_same() {
    let (coated, uncoated) = (press("coated"), press("uncoated"));
    // Mid-tones of a press on uncoated paper, which coated paper can print.
    let samples: Vec<u8> = (0..2000_u32)
        .flat_map(|at| [at * 7 % 150, at * 11 % 150, at * 13 % 150, at * 3 % 60].map(|ink| ink as u8))
        .collect();
    let picture = cmyk(&samples, UNCOATED);
    let kept = Separation { keeps_black_point: true, ..Separation::default() };
    let inks = coated.press_pixels(&picture, kept);
    let look = |press: &Profile, inks: &[u8]| press.lab(std::array::from_fn(|ink| f64::from(inks[ink]) / 255.0));
    let off = |inks: &[u8]| {
        let all =
            samples.chunks(4).zip(inks.chunks(4)).map(|(was, is)| difference(look(&uncoated, was), look(&coated, is)));
        let all: Vec<f64> = all.collect();
        (all.iter().sum::<f64>() / all.len() as f64, all.into_iter().fold(0.0, f64::max))
    };
    let ((mean, most), (before, most_before)) = (off(&inks), off(&samples));
    assert!(mean < 0.5 && most < 2.5, "{mean} {most}");
    assert!(before > 2.0 && most_before > 5.0, "the numbers alone are far off: {before} {most_before}");
    // Numbers stand where they are meant, and where the picture was made for this press.
    let numbers = Separation { inking: Inking::AsTheyAre, ..Separation::default() };
    assert_eq!(*coated.press_pixels(&picture, numbers), samples);
    assert_eq!(*uncoated.press_pixels(&picture, Separation::default()), samples);
    // A damaged profile leaves the numbers and is found out.
    let mut damaged = UNCOATED.to_vec();
    damaged[400..].iter_mut().for_each(|byte| *byte = 0);
    let picture = cmyk(&samples, &damaged);
    assert!(matches!(picture.space(), StatedColours::Profile(_)) && !coated.can_separate(&picture));
    assert_eq!(*coated.press_pixels(&picture, Separation::default()), samples);
}

/// A colour's tone is the black that gives back as much light, by the primaries of IEC 61966-2-1; a grey one's is that of
/// black alone, and numbers that are ink are the tone.
#[test]
fn the_tone_of_a_picture_is_as_light_as_the_picture() {
    let press = press("coated");
    let straight = || Tones::new(vec![TonedInk { ink: crate::ground::Ink::black(1.0), points: Vec::new() }]);
    let toned = |picture: Picture| Arc::new(picture);
    let kept = Separation { keeps_black_point: true, ..Separation::default() };
    let colours = [[200_u8, 30, 40], [30, 90, 160], [250, 220, 60], [60, 140, 70]];
    let picture = toned(png(ColorType::Rgb, png::BitDepth::Eight, colours.as_flattened(), |_| {})).toned(straight());
    assert_eq!(press.picture_plates(&picture, kept), PicturePlate::black());
    let linear = |level: u8| {
        let share = f64::from(level) / 255.0;
        if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    for (colour, ink) in colours.iter().zip(press.press_pixels(&picture, kept).iter()) {
        // The row of Y for D50, as profiles carry it (Bradford).
        let [r, g, b] = colour.map(linear);
        let light = 0.222_504 * r + 0.716_879 * g + 0.060_617 * b;
        let wanted = 116.0 * light.cbrt() - 16.0;
        assert!((lightness(&press, *ink) - wanted).abs() < 0.4, "{colour:?}: {} for {wanted}", lightness(&press, *ink));
    }
    let greys: Vec<u8> = (0..=255).flat_map(|level| [level; 3]).collect();
    let neutral = || png(ColorType::Rgb, png::BitDepth::Eight, &greys, |_| {});
    let usual = Separation::default();
    assert_eq!(press.press_pixels(&toned(neutral()).toned(straight()), usual), press.press_pixels(&neutral(), usual));
    let numbers: Vec<u8> = (0..=255).collect();
    let plain = toned(png(ColorType::Grayscale, png::BitDepth::Eight, &numbers, |_| {})).toned(straight());
    assert!(press.press_pixels(&plain, usual).iter().eq((0..=255_u8).rev().collect::<Vec<_>>().iter()));
    // Black ink of this press keeps its tone, and colour is as light as it is.
    let inks = cmyk(&[0, 0, 0, 128, 255, 0, 0, 0, 0, 0, 0, 0], COATED);
    let tones = press.press_pixels(&toned(inks).toned(straight()), usual);
    assert!(tones[0].abs_diff(128) <= 1 && tones[2] == 0, "{tones:?}");
    assert!((lightness(&press, tones[1]) - press.lab([1.0, 0.0, 0.0, 0.0])[0]).abs() < 0.4, "{tones:?}");
}
