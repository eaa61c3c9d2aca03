//! PNG: sRGB pixels with their resolution and title, and no date.
//!
//! Rows are compressed in strips, each for itself, so that cores share the work and a strip that has not changed is not
//! compressed again. Strips end on whole bytes; laid end to end they are one stream (RFC 1950, RFC 1951).

use crate::ground::{Adler, MM_PER_INCH, coded_rows, crc, stream_end, stream_head};
use crate::scene::{Scene, picture_words};
use rayon::prelude::*;
use std::sync::Arc;

const SIGNATURE: [u8; 8] = [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1A, b'\n'];
/// 8 bit RGB, with or without alpha; the usual compression and filters, not interlaced.
const RGB: [u8; 5] = [8, 2, 0, 0, 0];
const RGBA: [u8; 5] = [8, 6, 0, 0, 0];
/// Shares of an ink, which are no colour.
const GREY: [u8; 5] = [8, 0, 0, 0, 0];
const RELATIVE_COLORIMETRIC: u8 = 1;
/// What the PNG specification has written beside sRGB, for readers that do not know it.
const GAMMA: u32 = 45_455;
const PRIMARIES: [u32; 8] = [31_270, 32_900, 64_000, 33_000, 30_000, 60_000, 15_000, 6_000];

/// The key of a packet of XMP (its specification's part 3).
const XMP: &str = "XML:com.adobe.xmp";

/// Rows of a plain picture that are compressed together.
const ROWS: usize = 64;

/// Compresses some rows of pixels: first the checksum and length of what they were, then the blocks.
pub fn strip<'a>(rows: impl Iterator<Item = &'a [u8]> + Clone, pixel: usize) -> Vec<u8> {
    let (blocks, sum) = coded_rows(rows, pixel);
    [&sum.bytes(), &blocks[..]].concat()
}

/// RGB pixels as a file.
pub fn png_file(rgb: &[u8], size: (usize, usize), ppi: f64, about: impl Into<About>) -> Vec<u8> {
    write(&strips(rgb, size.0, 3), size, ppi, about)
}

/// Grey samples as a file, in no colour space.
pub fn grey_file(grey: &[u8], size: (usize, usize), ppi: f64, about: impl Into<About>) -> Vec<u8> {
    file(&strips(grey, size.0, 1), size, GREY, Some(ppi), &about.into())
}

/// A picture without any size on paper: RGB pixels, or RGB and alpha.
pub fn screen_file(pixels: &[u8], channels: usize, size: (usize, usize), about: impl Into<About>) -> Vec<u8> {
    file(&strips(pixels, size.0, channels), size, if channels == 4 { RGBA } else { RGB }, None, &about.into())
}

fn strips(pixels: &[u8], width: usize, channels: usize) -> Vec<Arc<Vec<u8>>> {
    let row = (width * channels).max(1);
    let rows = pixels.par_chunks(row * ROWS);
    rows.map(|rows| Arc::new(strip(rows.chunks_exact(row), channels))).collect()
}

/// Strips from head to foot make a picture of `size`, width and height.
pub fn write(strips: &[Arc<Vec<u8>>], size: (usize, usize), ppi: f64, about: impl Into<About>) -> Vec<u8> {
    file(strips, size, RGB, Some(ppi), &about.into())
}

fn file(strips: &[Arc<Vec<u8>>], size: (usize, usize), kind: [u8; 5], ppi: Option<f64>, about: &About) -> Vec<u8> {
    let mut file = Vec::with_capacity(strips.iter().map(|strip| strip.len() + 16).sum::<usize>() + 512);
    file.extend(SIGNATURE);
    let [width, height] = [size.0, size.1].map(|side| (side as u32).to_be_bytes());
    chunk(&mut file, *b"IHDR", &[&width, &height, &kind]);
    if kind != GREY {
        chunk(&mut file, *b"sRGB", &[&[RELATIVE_COLORIMETRIC]]);
        chunk(&mut file, *b"gAMA", &[&GAMMA.to_be_bytes()]);
        chunk(&mut file, *b"cHRM", &[&PRIMARIES.map(u32::to_be_bytes).concat()]);
    }
    if let Some(ppi) = ppi {
        let density = ((ppi * 1000.0 / MM_PER_INCH).round().clamp(1.0, f64::from(i32::MAX)) as u32).to_be_bytes();
        chunk(&mut file, *b"pHYs", &[&density, &density, &[1]]);
    }
    for (key, words) in [("Title", &about.title), (XMP, &about.xmp)] {
        if !words.is_empty() {
            // Not compressed, in no language in particular.
            chunk(&mut file, *b"iTXt", &[key.as_bytes(), b"\0\0\0\0\0", words.as_bytes()]);
        }
    }
    let mut sum = Adler::default();
    for (place, strip) in strips.iter().enumerate() {
        let (own, blocks) = strip.split_at(Adler::SIZE);
        sum = sum.then(Adler::from_bytes(own));
        chunk(&mut file, *b"IDAT", &[if place == 0 { stream_head() } else { &[] }, blocks]);
    }
    chunk(&mut file, *b"IDAT", &[&stream_end(sum)]);
    chunk(&mut file, *b"IEND", &[]);
    file
}

fn chunk(file: &mut Vec<u8>, name: [u8; 4], parts: &[&[u8]]) {
    let length: usize = parts.iter().map(|part| part.len()).sum();
    file.extend((length as u32).to_be_bytes());
    let start = file.len();
    file.extend(name);
    for part in parts {
        file.extend_from_slice(part);
    }
    file.extend(crc(&file[start..]).to_be_bytes());
}

/// What a file says of itself.
pub struct About {
    /// The book's title and what the picture shows of it.
    pub title: String,
    /// A packet of XMP, or nothing.
    pub xmp: String,
}

impl From<&str> for About {
    fn from(title: &str) -> About {
        About { title: title.to_owned(), xmp: String::new() }
    }
}

impl About {
    pub fn part(scene: &Scene, part: &str) -> About {
        About { title: scene.job.picture_title(part), xmp: String::new() }
    }

    /// With the version that it shows, and with the alternative text where that describes this picture.
    pub fn version(scene: &Scene, part: &str, mime: &str, alternative: bool) -> About {
        let title = scene.job.picture_title(part);
        let xmp = picture_words(&scene.job, mime, &title, alternative);
        About { title, xmp }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;
    use std::sync::Arc;

    const PIXELS: &[u8] = &[10, 20, 30, 40, 50, 60];

    /// Chunks read by hand, after the PNG specification: length, name, bytes, CRC.
    fn chunks(file: &[u8]) -> BTreeMap<String, Vec<u8>> {
        assert_eq!(file[..8], [0x89, b'P', b'N', b'G', 13, 10, 26, 10]);
        let (mut rest, mut chunks) = (&file[8..], BTreeMap::new());
        while !rest.is_empty() {
            let length = u32::from_be_bytes(rest[..4].try_into().expect("four bytes")) as usize;
            let mut crc = flate2::Crc::new();
            crc.update(&rest[4..8 + length]);
            assert_eq!(rest[8 + length..12 + length], crc.sum().to_be_bytes());
            let name = String::from_utf8_lossy(&rest[4..8]).into_owned();
            chunks.entry(name).or_insert_with(Vec::new).extend(&rest[8..8 + length]);
            rest = &rest[12 + length..];
        }
        chunks
    }

    #[test]
    fn says_colour_resolution_and_title_but_no_time() {
        let file = super::write(&[Arc::new(super::strip([PIXELS].into_iter(), 3))], (2, 1), 200.0, "Łódź, flat");
        let chunks = chunks(&file);
        let words = |name: &str| -> Vec<u32> {
            chunks[name].chunks(4).map(|word| word.iter().fold(0, |sum, byte| sum << 8 | u32::from(*byte))).collect()
        };
        assert_eq!(chunks["sRGB"], [1]);
        // The values that the PNG specification gives for use beside sRGB.
        assert_eq!(words("gAMA"), [45455]);
        assert_eq!(words("cHRM"), [31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000]);
        // 200 / 0.0254 = 7874 to the metre.
        assert_eq!(words("pHYs")[..2], [7874, 7874]);
        assert_eq!(chunks["pHYs"][8], 1);
        assert!(chunks["iTXt"].starts_with(b"Title\0") && chunks["iTXt"].ends_with("Łódź, flat".as_bytes()));
        assert!(!chunks.contains_key("tIME"));
    }

    #[test]
    fn another_reader_sees_the_same_pixels() {
        let (width, height) = (37, 50);
        let pixels: Vec<u8> = (0..width * height * 3).map(|at: usize| (at * at / 7 + at / 111) as u8).collect();
        let rows = |range: std::ops::Range<usize>| Arc::new(super::strip(pixels[range].chunks(width * 3), 3));
        let cut = width * 3 * 20;
        let file = super::write(&[rows(0..cut), rows(cut..pixels.len())], (width, height), 200.0, "");
        let mut reader = ::png::Decoder::new(std::io::Cursor::new(file)).read_info().expect("a PNG");
        let mut read = vec![0; pixels.len()];
        reader.next_frame(&mut read).expect("a whole picture, its checksums right");
        assert!(read == pixels);
    }
}
