//! The front for screens: what a `format screen` is delivered as.

use crate::output::entry::{Output, OutputFile, OutputJob};
use crate::output::front_file::{AT_MOST, KINDS, QUALITY, bytes, ending};
use crate::raster::front_picture;
use crate::scene::{Media, OtherRatio};
use crate::source::Word;

pub const OUTPUT: Output = Output {
    word: Word::new("screen", "the front of a `format screen`, in the pixels that it states")
        .takes(&[KINDS])
        .default("jpeg")
        .properties(&[QUALITY, AT_MOST]),
    files: &["screen.jpg", "screen.png"],
    for_press: false,
    on_request: false,
    media: Media::Screens,
    write,
};

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let OutputJob { scene, settings, darkroom, .. } = job;
    let Some(size) = scene.sheet.pixels else { return Vec::new() };
    let picture = front_picture(scene, size, OtherRatio::Cropped, darkroom);
    let file = picture.map(|picture| OutputFile {
        name: format!("screen.{}", ending(settings)),
        bytes: bytes(&picture, scene, settings, "front", darkroom).into(),
    });
    file.into_iter().collect()
}
