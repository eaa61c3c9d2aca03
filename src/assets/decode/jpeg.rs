//! JPEG: grey and RGB, and CMYK without a detour through RGB. The one door to the JPEG readers.
//!
//! The readers make the best of a damaged scan and say nothing; so every file is also walked by ourselves, code by code.

mod frame;
mod huffman;
mod scan;
pub mod walk;

use crate::assets::decode::decoded::{Decoded, SIZE_LIMIT, broken, fault, plausible, space, srgb, within_limits};
use crate::assets::decode::exif;
use crate::assets::decode::jpeg::walk::{APP14, segment, walk};
use crate::assets::decode::samples::SampleLayout;
use crate::assets::{JpegStream, Model, PictureFault, PictureFormat, Pixels, StatedColours};
use image::codecs::jpeg::JpegDecoder;
use image::{ImageDecoder, ImageError};
use std::io::Cursor;
use std::sync::Arc;

pub fn read(bytes: &[u8]) -> Result<Decoded, PictureFault> {
    let (head, model) = sized(bytes)?;
    // The walk takes nearly as long as the reading; side by side they take hardly longer than one.
    let (samples, walked) = rayon::join(
        || if model == Model::Cmyk { inks(bytes, head.app14) } else { light(bytes, model) },
        || walk(bytes),
    );
    if walked.whole < LEAST {
        return Err(broken(PictureFormat::Jpeg, "nothing of its picture can be read"));
    }
    let samples = samples?;
    let expected = head.width as usize * head.height as usize * model.channels();
    if samples.len() != expected {
        return Err(broken(PictureFormat::Jpeg, "it decodes to another size than it states"));
    }
    let damage = walked.plain.is_none().then(|| damage(walked.whole));
    let stream = walked.plain.filter(|_| model != Model::Rgb).map(|plain| JpegStream {
        bytes: Arc::new(plain),
        grey: model == Model::Grey,
        inverted: model == Model::Cmyk && head.app14,
    });
    Ok(Decoded { stream, damage, ..described(head, model, samples) })
}

/// All that stands before the pixels of a picture in RGB.
pub fn measure(bytes: &[u8]) -> Option<Decoded> {
    let (head, model) = sized(bytes).ok()?;
    (model == Model::Rgb).then(|| described(head, model, Vec::new()))
}

fn sized(bytes: &[u8]) -> Result<(JpegHead, Model), PictureFault> {
    let head = head(bytes)?;
    let model = match head.channels {
        1 => Model::Grey,
        3 => Model::Rgb,
        4 => Model::Cmyk,
        other => return Err(fault(format!("a JPEG of {other} channels"), "save it as RGB, grey or CMYK")),
    };
    within_limits(head.width, head.height, SampleLayout::new(model, false, 8))?;
    Ok((head, model))
}

fn described(head: JpegHead, model: Model, samples: Vec<u8>) -> Decoded {
    let exif = exif::read(&head.exif);
    Decoded {
        width: head.width,
        height: head.height,
        model,
        bits: 8,
        ppi: exif.ppi.or(head.ppi),
        space: space(
            model,
            Some(head.profile),
            if model == Model::Cmyk { StatedColours::Unstated } else { srgb(exif.srgb) },
        ),
        orientation: exif.orientation,
        pixels: Pixels::opaque(samples),
        stream: None,
        damage: None,
    }
}

/// A picture of which less can be read is none.
const LEAST: f64 = 0.01;

fn damage(whole: f64) -> String {
    let read = (whole * 100.0).floor();
    if read < 100.0 {
        format!("its scan is damaged after {read} % of the picture")
    } else {
        "its last details are damaged".to_owned()
    }
}

fn light(bytes: &[u8], model: Model) -> Result<Vec<u8>, PictureFault> {
    let damaged = |why: ImageError| broken(PictureFormat::Jpeg, why);
    let decoder = JpegDecoder::new(Cursor::new(bytes)).map_err(damaged)?;
    if usize::from(decoder.color_type().channel_count()) != model.channels() {
        return Err(broken(PictureFormat::Jpeg, "its parts disagree on the colour model"));
    }
    let mut samples = vec![0; decoder.total_bytes() as usize];
    decoder.read_image(&mut samples).map_err(damaged)?;
    Ok(samples)
}

/// Ink, 255 a solid. The reader takes every CMYK file for one that counts paper, as those with an APP14 marker do; the
/// others count ink already.
fn inks(bytes: &[u8], counts_paper: bool) -> Result<Vec<u8>, PictureFault> {
    let mut decoder = jpeg_decoder::Decoder::new(Cursor::new(bytes));
    decoder.set_max_decoding_buffer_size(SIZE_LIMIT as usize);
    let mut samples = decoder.decode().map_err(|why| broken(PictureFormat::Jpeg, why))?;
    if !counts_paper {
        for sample in &mut samples {
            *sample = 255 - *sample;
        }
    }
    Ok(samples)
}

struct JpegHead {
    width: u32,
    height: u32,
    channels: u8,
    /// An APP14 marker says how the channels are to be read.
    app14: bool,
    ppi: Option<f64>,
    exif: Vec<u8>,
    profile: Vec<u8>,
}

/// Walks the segments up to the first scan, and makes sure that the picture ends.
fn head(bytes: &[u8]) -> Result<JpegHead, PictureFault> {
    let mut head =
        JpegHead { width: 0, height: 0, channels: 0, app14: false, ppi: None, exif: Vec::new(), profile: Vec::new() };
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
            (0xc0..=0xc2, [8, h1, h2, w1, w2, channels, ..]) => {
                head.width = u32::from(u16::from_be_bytes([*w1, *w2]));
                head.height = u32::from(u16::from_be_bytes([*h1, *h2]));
                head.channels = *channels;
            }
            (0xc4 | 0xc8 | 0xcc, _) => {}
            (0xc0..=0xcf, _) => return Err(fault("a rare kind of JPEG (12 bit, lossless or arithmetic)", PLAIN)),
            (0xda, _) => break,
            _ => {}
        }
    }
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

const PLAIN: &str = "save it as a baseline or progressive JPEG of 8 bits, or as TIFF";
