//! The printed front as shops show it, in stated pixels.

use crate::output::entry::{Output, OutputFile, OutputJob};
use crate::output::front_file::{AT_MOST, KINDS, QUALITY, bytes, ending};
use crate::raster::front_picture;
use crate::scene::Media;
use crate::source::{Word, choice, name, whole};

pub const OUTPUT: Output = Output {
    word: Word::new("shop", "the printed front in stated pixels, where `deliver` states them")
        .takes(&[whole("a width in pixels", 50.0, 10_000.0), whole("a height in pixels", 50.0, 10_000.0), KINDS])
        .properties(&[RATIO, SWATCH, QUALITY, AT_MOST]),
    files: &["shop.jpg", "shop.png"],
    for_press: false,
    on_request: false,
    media: Media::Print,
    write,
};

const RATIO: Word = Word::new("ratio", "what becomes of a front in another ratio")
    .takes(&[choice("what to do", &["refuse", "crop", "extend"])])
    .default("refuse");
const SWATCH: Word =
    Word::new("swatch", "what it is extended by; otherwise by the colour of its edges").takes(&[name("a swatch")]);

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let OutputJob { scene, settings, darkroom, .. } = job;
    let size = settings.front.size;
    let picture = size.and_then(|size| front_picture(scene, size, settings.front.ratio, darkroom));
    let file = picture.map(|picture| OutputFile {
        name: format!("shop.{}", ending(settings)),
        bytes: bytes(&picture, scene, settings, "front", darkroom).into(),
    });
    file.into_iter().collect()
}
