//! What a JPEG says of itself before its first scan.

use crate::assets::decode::decoded::{broken, fault, plausible};
use crate::assets::decode::jpeg::walk::{APP14, segment};
use crate::assets::{PictureFault, PictureFormat};

#[derive(Default)]
pub struct JpegHead {
    pub width: u32,
    pub height: u32,
    pub channels: u8,
    /// Blocks of each channel in a unit, across and down: the more, the finer it is.
    pub factors: Vec<(u8, u8)>,
    /// Where the file lists its channels, and where its first scan begins.
    pub listed_at: usize,
    pub scan_at: usize,
    /// Its bits come scan by scan, so its coefficients, two bytes each, all wait in memory for the last one.
    pub progressive: bool,
    /// An APP14 marker says how the channels are to be read.
    pub app14: bool,
    pub ppi: Option<f64>,
    pub exif: Vec<u8>,
    pub profile: Vec<u8>,
}

/// Walks the segments up to the first scan, and makes sure that the picture ends.
pub fn head(bytes: &[u8]) -> Result<JpegHead, PictureFault> {
    let mut head = JpegHead::default();
    let mut parts: Vec<(u8, &[u8])> = Vec::new();
    let mut at = 2;
    loop {
        let (marker, segment, next) =
            segment(bytes, at).ok_or_else(|| broken(PictureFormat::Jpeg, "it ends before the picture"))?;
        at = next;
        match (marker, segment) {
            (0xe0, [b'J', b'F', b'I', b'F', 0, _, _, unit, x1, x2, y1, y2, ..]) => {
                let across = f64::from(u16::from_be_bytes([*x1, *x2]));
                let down = f64::from(u16::from_be_bytes([*y1, *y2]));
                head.ppi = match unit {
                    1 => plausible(across.min(down)),
                    2 => plausible(across.min(down) * 2.54),
                    _ => None,
                };
            }
            (0xe1, segment) if segment.starts_with(b"Exif\0\0") => head.exif = segment.to_vec(),
            (0xe2, [b'I', b'C', b'C', b'_', b'P', b'R', b'O', b'F', b'I', b'L', b'E', 0, number, _, part @ ..]) => {
                parts.push((*number, part));
            }
            (0xee, segment) if segment.starts_with(APP14) => head.app14 = true,
            (0xc0..=0xc2, [8, h1, h2, w1, w2, channels, listed @ ..]) => {
                head.width = u32::from(u16::from_be_bytes([*w1, *w2]));
                head.height = u32::from(u16::from_be_bytes([*h1, *h2]));
                head.channels = *channels;
                head.progressive = marker == 0xc2;
                head.factors = listed.as_chunks::<3>().0.iter().map(|[_, own, _]| (own >> 4, own & 15)).collect();
                head.listed_at = next - listed.len();
            }
            (0xc4 | 0xc8 | 0xcc, _) => {}
            (0xc0..=0xcf, _) => return Err(fault("a rare kind of JPEG (12 bit, lossless or arithmetic)", PLAIN)),
            (0xda, _) => break,
            _ => {}
        }
    }
    head.scan_at = at;
    if head.channels == 0 {
        return Err(broken(PictureFormat::Jpeg, "it states no size"));
    }
    // In a scan 0xff stands before 0, a restart or a marker only, so this can be nothing but the end.
    if !bytes[at..].windows(2).any(|pair| pair == [0xff, 0xd9]) {
        return Err(broken(PictureFormat::Jpeg, "it ends in the middle of the picture"));
    }
    parts.sort_by_key(|(number, _)| *number);
    head.profile = parts.into_iter().flat_map(|(_, part)| part.iter().copied()).collect();
    Ok(head)
}

impl JpegHead {
    /// All channels are as fine as each other.
    pub fn is_even(&self) -> bool {
        self.factors.windows(2).all(|pair| pair[0] == pair[1])
    }

    /// The first channel is the finest, and the others are half as fine at the least: what nearly every encoder writes.
    pub fn is_usual(&self) -> bool {
        let usual = |own: u8| matches!(own, 1 | 2);
        let first = self.factors.first().copied().unwrap_or_default();
        self.factors.iter().all(|own| usual(own.0) && usual(own.1) && own.0 <= first.0 && own.1 <= first.1)
    }

    /// A channel of which so many samples stand for so many of the finest, a part of one each: 2 to 3, not 1 to 3.
    pub fn broken_step(&self) -> Option<(u8, u8)> {
        let most = self.factors.iter().fold((1, 1), |most, own| (most.0.max(own.0), most.1.max(own.1)));
        let steps = self.factors.iter().flat_map(|own| [(own.0, most.0), (own.1, most.1)]);
        steps.into_iter().find(|(own, most)| *own > 0 && most % own != 0)
    }
}

const PLAIN: &str = "save it as a baseline or progressive JPEG of 8 bits, or as TIFF";
