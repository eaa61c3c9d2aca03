//! Picture files to samples: what a file is, how large it may be, and what each format's reader hands over.

mod exif;
mod jpeg;
mod png;
mod samples;
mod tiff;
mod upright;
mod webp;

use crate::assets::{Format, JpegStream, Model, PictureFault, Pixels};
use samples::SampleLayout;

/// What a reader found. Width and height as stored until `upright` has turned them.
pub struct Decoded {
    pub width: u32,
    pub height: u32,
    pub model: Model,
    pub bits: u8,
    pub ppi: Option<f64>,
    pub profile: Option<Vec<u8>>,
    /// EXIF's number, 1 to 8; 1 is upright as stored.
    pub orientation: u8,
    pub pixels: Pixels,
    pub stream: Option<JpegStream>,
    /// What is wrong, where some of the picture can be read all the same.
    pub damage: Option<String>,
}

/// Pixels a side: a jacket with flaps, 550 mm, at 1200 ppi has 26,000.
const SIDE_LIMIT: u32 = 30_000;
/// Bytes of a decoded picture.
const SIZE_LIMIT: u64 = 512 << 20;

/// What a file is by its first bytes. A name that says another of our formats is refused: one of the two is a mistake,
/// and whoever handles the file next would trip over it.
pub fn sniff(name: &str, bytes: &[u8]) -> Result<Format, PictureFault> {
    let found = match bytes {
        [0x89, b'P', b'N', b'G', ..] => Format::Png,
        [0xff, 0xd8, 0xff, ..] => Format::Jpeg,
        [b'I', b'I', 42 | 43, 0, ..] | [b'M', b'M', 0, 42 | 43, ..] => Format::Tiff,
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Format::Webp,
        [] => return Err(fault("the file is empty", "save the picture again")),
        _ => return Err(fault("this is no picture we read", format!("{}save it as {KNOWN}", stranger(bytes)))),
    };
    agreed(name, label(found), ending(found))?;
    Ok(found)
}

/// Whether a name and what the file is agree. A name that says nothing we know agrees with everything.
pub fn agreed(name: &str, found: &str, ending: &str) -> Result<(), PictureFault> {
    let said =
        name.rsplit_once('.').and_then(|(_, said)| ENDINGS.iter().find(|(end, _)| said.eq_ignore_ascii_case(end)));
    match said {
        Some((_, said)) if *said != found => Err(fault(
            format!("the name says {said}, but the file is {found}"),
            format!("rename it to end in .{ending}, or save it again as {said}"),
        )),
        _ => Ok(()),
    }
}

pub fn decode(format: Format, bytes: &[u8]) -> Result<Decoded, PictureFault> {
    match format {
        Format::Png => png::read(bytes),
        Format::Jpeg => jpeg::read(bytes),
        Format::Tiff => tiff::read(bytes),
        Format::Webp => webp::read(bytes),
    }
}

const KNOWN: &str = "PNG, JPEG, TIFF, WebP or SVG";

pub fn fault(message: impl Into<String>, help: impl Into<String>) -> PictureFault {
    PictureFault { message: message.into(), help: help.into() }
}

/// The reader gave up in the middle.
fn broken(format: Format, why: impl std::fmt::Display) -> PictureFault {
    let message = format!("the {} file is damaged or cut short ({why})", label(format));
    fault(message, "fetch the file anew from where it came, or save it again")
}

/// Refuses what would not fit in memory, before anything is decoded.
fn within_limits(width: u32, height: u32, layout: SampleLayout) -> Result<(), PictureFault> {
    if width == 0 || height == 0 {
        return Err(fault("the picture has no pixels", "save it again"));
    }
    let help = "place a smaller picture: a press shows no more than 300 pixels per inch, 1200 in line art";
    if width.max(height) > SIDE_LIMIT {
        return Err(fault(format!("it has {width} x {height} pixels; the limit is {SIDE_LIMIT} a side"), help));
    }
    let bytes = u64::from(width) * u64::from(height) * layout.bytes_a_pixel();
    if bytes > SIZE_LIMIT {
        let (mib, limit) = (bytes >> 20, SIZE_LIMIT >> 20);
        return Err(fault(format!("it has {width} x {height} pixels, {mib} MiB; the limit is {limit} MiB"), help));
    }
    Ok(())
}

/// A profile, if its head says that it is whole and of the picture's model.
fn own_profile(model: Model, bytes: Vec<u8>) -> Option<Vec<u8>> {
    let space: &[u8] = match model {
        Model::Grey => b"GRAY",
        Model::Rgb => b"RGB ",
        Model::Cmyk => b"CMYK",
    };
    (bytes.get(36..40)? == b"acsp" && bytes.get(16..20)? == space).then_some(bytes)
}

/// A stated resolution that can be meant.
fn plausible(ppi: f64) -> Option<f64> {
    (ppi.is_finite() && (1.0..100_000.0).contains(&ppi)).then_some(ppi)
}

fn label(format: Format) -> &'static str {
    match format {
        Format::Png => "PNG",
        Format::Jpeg => "JPEG",
        Format::Tiff => "TIFF",
        Format::Webp => "WebP",
    }
}

fn ending(format: Format) -> &'static str {
    match format {
        Format::Png => "png",
        Format::Jpeg => "jpg",
        Format::Tiff => "tif",
        Format::Webp => "webp",
    }
}

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
