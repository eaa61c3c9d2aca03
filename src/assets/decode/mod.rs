//! Picture files to samples: what a file is, how large it may be, and what each format's reader hands over.

mod decoded;
mod exif;
mod jpeg;
mod png;
mod samples;
mod tiff;
mod upright;
mod webp;

use crate::assets::decode::decoded::{broken, ending, label};
use crate::assets::guard::guarded;
use crate::assets::{PictureFault, PictureFormat};

pub use decoded::{Decoded, SIDE_LIMIT, fault};
pub use jpeg::quality::quality as jpeg_quality;

/// What a file is by its first bytes. A name that says another of our formats is refused: one of the two is a mistake,
/// and whoever handles the file next would trip over it.
pub fn sniff(name: &str, bytes: &[u8]) -> Result<PictureFormat, PictureFault> {
    let found = match bytes {
        [0x89, b'P', b'N', b'G', ..] => PictureFormat::Png,
        [0xff, 0xd8, 0xff, ..] => PictureFormat::Jpeg,
        [b'I', b'I', 42 | 43, 0, ..] | [b'M', b'M', 0, 42 | 43, ..] => PictureFormat::Tiff,
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => PictureFormat::Webp,
        [] => return Err(fault("the file is empty", "save the picture again")),
        _ => return Err(fault("this is not a picture we read", format!("{}save it as {KNOWN}", stranger(bytes)))),
    };
    agreed(name, label(found), ending(found))?;
    Ok(found)
}

/// Whether a name and what the file is agree. A name that says nothing we know agrees with everything.
pub fn agreed(name: &str, found: &str, ending: &str) -> Result<(), PictureFault> {
    let stated =
        name.rsplit_once('.').and_then(|(_, stated)| ENDINGS.iter().find(|(end, _)| stated.eq_ignore_ascii_case(end)));
    match stated {
        Some((_, stated)) if *stated != found => Err(fault(
            format!("the name says {stated}, but the file is {found}"),
            format!("rename it to end in .{ending}, or save it again as {stated}"),
        )),
        _ => Ok(()),
    }
}

pub fn decode(format: PictureFormat, bytes: &[u8]) -> Result<Decoded, PictureFault> {
    let read = || match format {
        PictureFormat::Png => png::read(bytes),
        PictureFormat::Jpeg => jpeg::read(bytes),
        PictureFormat::Tiff => tiff::read(bytes),
        PictureFormat::Webp => webp::read(bytes),
    };
    guarded(read).unwrap_or_else(|| Err(broken(format, "its reader cannot make sense of it")))
}

/// All but the pixels of a file that was decoded before; `None` where its format has no quick way.
pub fn measure(format: PictureFormat, bytes: &[u8]) -> Option<Decoded> {
    let read = || if format == PictureFormat::Jpeg { jpeg::measure(bytes) } else { None };
    guarded(read).flatten()
}

const KNOWN: &str = "PNG, JPEG, TIFF, WebP or SVG";

const ENDINGS: [(&str, &str); 8] = [
    ("png", "PNG"),
    ("jpg", "JPEG"),
    ("jpeg", "JPEG"),
    ("jpe", "JPEG"),
    ("tif", "TIFF"),
    ("tiff", "TIFF"),
    ("webp", "WebP"),
    ("svg", "SVG"),
];

/// Formats met often enough to be called by name.
fn stranger(bytes: &[u8]) -> &'static str {
    match bytes {
        [b'%', b'P', b'D', b'F', ..] => "it is a PDF; ",
        [b'G', b'I', b'F', b'8', ..] => "it is a GIF; ",
        [b'8', b'B', b'P', b'S', ..] => "it is a layered PSD file; ",
        [b'%', b'!', b'P', b'S', ..] => "it is PostScript; ",
        [_, _, _, _, b'f', b't', b'y', b'p', b'h' | b'm', ..] => "it is HEIC; ",
        [_, _, _, _, b'f', b't', b'y', b'p', b'a', ..] => "it is AVIF; ",
        [0xff, 0x0a, ..] => "it is JPEG XL; ",
        [b'B', b'M', ..] => "it is BMP; ",
        [0x1f, 0x8b, ..] => "it is compressed (svgz?), unpack it; ",
        _ => "",
    }
}

#[cfg(test)]
mod tests;
