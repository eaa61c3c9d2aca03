//! Pictures on their plates: bytes kept, alpha, and pictures in one ink.

use super::{OnDisk, block, item, near, press, scene, spot};
use crate::assets::{Darkroom, Inking, Model, Picture, Separation};
use crate::ground::{Affine, Ink, Rect};
use crate::pdf::{Surround, write};
use crate::scene::{Item, Mark, PlacedPicture};
use image::{ExtendedColorType, ImageEncoder as _};
use std::sync::Arc;

fn png(width: u32, height: u32, colour: ExtendedColorType, samples: &[u8]) -> Arc<Picture> {
    let mut bytes = Vec::new();
    let encoder = image::codecs::png::PngEncoder::new(&mut bytes);
    encoder.write_image(samples, width, height, colour).expect("samples as many as pixels");
    Arc::new(Picture::open("test.png", bytes.into()).expect("a picture"))
}

fn jpeg(width: u32, height: u32, colour: ExtendedColorType, samples: &[u8]) -> Arc<Picture> {
    let mut bytes = Vec::new();
    let encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 95);
    encoder.write_image(samples, width, height, colour).expect("samples as many as pixels");
    Arc::new(Picture::open("test.jpg", bytes.into()).expect("a picture"))
}

/// In the `column`th square of 20 mm.
fn placed(column: f64, picture: &Arc<Picture>, paint: Option<Ink>) -> Item {
    let transform = Affine::new([20.0, 0.0, 0.0, 20.0, column * 20.0, 0.0]);
    item(Mark::Picture(PlacedPicture { picture: picture.clone(), transform, paint, separation: Separation::default() }))
}

fn sheet(items: impl IntoIterator<Item = Item>) -> OnDisk {
    let ground = block(Rect::new(0.0, 0.0, 200.0, 20.0), Ink::process(0.2, 0.0, 0.0, 0.0));
    OnDisk::new(&press(&scene(90.0, 20.0, 100.0, [ground].into_iter().chain(items).collect()), Surround::Trim))
}

#[test]
fn pictures_knock_out_and_their_alpha_lets_through() {
    let grey = png(2, 1, ExtendedColorType::L8, &[255, 55]);
    let clear = png(2, 1, ExtendedColorType::La8, &[0, 255, 0, 0]);
    let half = png(1, 1, ExtendedColorType::La8, &[0, 128]);
    let white = png(1, 1, ExtendedColorType::Rgb8, &[255, 255, 255]);
    let plates =
        sheet([&grey, &clear, &half, &white].iter().enumerate().map(|(at, p)| placed(at as f64, p, None))).plates(72);
    near(plates.process(5.0, 10.0), [0, 0, 0, 0]);
    near(plates.process(15.0, 10.0), [0, 0, 0, 200]);
    near(plates.process(25.0, 10.0), [0, 0, 0, 255]);
    near(plates.process(35.0, 10.0), [51, 0, 0, 0]);
    near(plates.process(50.0, 10.0), [25, 0, 0, 128]);
    near(plates.process(70.0, 10.0), [0, 0, 0, 0]);
}

#[test]
fn jpeg_scans_stay_as_they_came() {
    let grey = jpeg(64, 64, ExtendedColorType::L8, &[55; 64 * 64]);
    // A CMYK file of another writer's: a page of ours, drawn by the reader.
    let page = sheet([block(Rect::new(0.0, 0.0, 200.0, 100.0), Ink::process(0.1, 0.6, 0.3, 0.2))]);
    page.read(
        "gs",
        &[
            "-q",
            "-dNOPAUSE",
            "-dBATCH",
            "-dSAFER",
            "-sDEVICE=jpegcmyk",
            "-dJPEGQ=95",
            "-r72",
            "-sOutputFile=cmyk.jpg",
            "sheet.pdf",
        ],
    );
    let cmyk = Arc::new(Picture::open("cmyk.jpg", page.file("cmyk.jpg").into()).expect("a picture"));
    assert_eq!(cmyk.model(), Model::Cmyk);
    // The other program tags its pages with a profile of its own.
    let mut numbers = placed(1.0, &cmyk, None);
    if let Mark::Picture(placed) = &mut numbers.mark {
        placed.separation.inking = Inking::AsTheyAre;
    }
    let disk = sheet([placed(0.0, &grey, None), numbers]);
    let file = disk.file("sheet.pdf");
    for picture in [&grey, &cmyk] {
        let stream = &picture.jpeg_passthrough().expect("a whole JPEG").bytes;
        assert!(file.windows(stream.len()).any(|window| window == &stream[..]), "{picture:?} was changed");
    }
    let plates = disk.plates(72);
    near(plates.process(10.0, 10.0), [0, 0, 0, 200]);
    near(plates.process(30.0, 10.0), [26, 153, 77, 51]);
}

#[test]
fn rgb_goes_through_the_press_profile() {
    let red = png(1, 1, ExtendedColorType::Rgb8, &[200, 30, 40]);
    let scene = scene(90.0, 20.0, 100.0, Vec::new());
    let wanted: [i32; 4] = Darkroom::default().negative(&red, Separation::default(), &scene.profile).samples[..]
        .iter()
        .map(|s| i32::from(*s))
        .collect::<Vec<_>>()
        .try_into()
        .expect("four inks");
    assert!(wanted[1] > 200);
    near(sheet([placed(0.0, &red, None)]).plates(72).process(10.0, 10.0), wanted);
}

#[test]
fn a_picture_in_one_ink_is_the_swatch_where_it_is_solid() {
    let orange = spot("Warm orange", [0.0, 0.5, 0.9, 0.0], false);
    let stencil = png(2, 1, ExtendedColorType::La8, &[9, 255, 9, 0]);
    let shade = png(4, 1, ExtendedColorType::L8, &[0, 127, 255, 255]);
    let plates = sheet([
        placed(0.0, &stencil, Some(Ink::spot(orange.clone(), 1.0))),
        placed(1.0, &shade, Some(Ink::spot(orange, 0.7))),
        placed(2.0, &shade, Some(Ink::process(0.0, 0.9, 0.4, 0.0))),
        placed(3.0, &shade, Some(Ink::black(1.0).overprinting())),
    ])
    .plates(72);
    let orange = |x: f64| [plates.at("Warm orange", x, 10.0), plates.at("Cyan", x, 10.0)];
    near(orange(5.0), [255, 0]);
    near(orange(15.0), [0, 51]);
    near(orange(22.5), [179, 0]);
    near(orange(27.5), [90, 25]);
    near(orange(35.0), [0, 51]);
    near(plates.process(42.5, 10.0), [0, 230, 102, 0]);
    near(plates.process(47.5, 10.0), [25, 115, 51, 0]);
    near(plates.process(62.5, 10.0), [51, 0, 0, 255]);
    near(plates.process(67.5, 10.0), [51, 0, 0, 128]);
}

#[test]
fn a_rebuild_takes_the_same_streams_out_of_the_darkroom() {
    let samples: Vec<u8> = (0..900 * 700 * 3).map(|at: u32| (at.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    let noise = png(900, 700, ExtendedColorType::Rgb8, &samples);
    let scene = scene(90.0, 20.0, 100.0, vec![placed(0.0, &noise, None)]);
    let darkroom = Darkroom::default();
    let written = || write(&scene, &Surround::Bleed.into(), &darkroom).whole().into_owned();
    let (first, again) = (written(), written());
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("a pool");
    let alone = pool.install(|| press(&scene, Surround::Bleed));
    assert!(first == again && first == alone);
    OnDisk::new(&first).read("qpdf", &["--check", "sheet.pdf"]);
}
