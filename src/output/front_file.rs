//! Pictures of the front for shops, as JPEG or PNG: words that say how, and bytes.

use crate::assets::Darkroom;
use crate::ground::Digest;
use crate::output::png::{self, About};
use crate::raster::FrontPicture;
use crate::scene::{OutputSettings, Scene};
use crate::source::{Slot, Word, choice, text, whole};

pub const KINDS: Slot = choice("a kind of file", &["jpeg", "png"]).perhaps();
const PNG: &str = "png";

pub const QUALITY: Word =
    Word::new("quality", "of a JPEG: 100 is the best").takes(&[whole("a quality", 40.0, 100.0)]).default("90");
pub const AT_MOST: Word =
    Word::new("at-most", "the best quality of a JPEG that has no more bytes: a number of them, or \"2 MB\"")
        .takes(&[whole("a number of bytes", 1.0, 1e9)])
        .or(&[text("a size in quotes, such as \"2 MB\"")]);

/// The ending of the file's name.
pub fn ending(settings: &OutputSettings) -> &'static str {
    if settings.word == PNG { PNG } else { "jpg" }
}

/// `part` says in the title what is shown.
pub fn bytes(
    picture: &FrontPicture,
    scene: &Scene,
    settings: &OutputSettings,
    part: &str,
    darkroom: &Darkroom,
) -> Vec<u8> {
    let mime = if settings.word == PNG { "image/png" } else { "image/jpeg" };
    let says = About::version(scene, part, mime, true);
    let about = format!("{} {:?} {} {} {}", ending(settings), settings.front.weight, says.title, says.xmp, picture.ppi);
    let key = Digest::of_all(&[b"front file", picture.name.bytes(), about.as_bytes()]);
    let made = darkroom.stream(key, || {
        if settings.word == PNG {
            let size = (picture.size.width as usize, picture.size.height as usize);
            png::png_file(&picture.rgb, size, picture.ppi, says)
        } else {
            picture.pixels().jpeg(settings.front.weight, &says.xmp)
        }
    });
    made.to_vec()
}
