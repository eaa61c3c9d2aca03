//! JPEG: grey and RGB, and CMYK without a detour through RGB.
//!
//! The readers make the best of a damaged scan and say nothing; so every file is also walked by ourselves, code by code.

mod effort;
mod frame;
mod head;
mod huffman;
mod lone;
pub mod quality;
mod samples;
mod scan;
mod spread;
pub mod walk;

use crate::assets::decode::decoded::{Decoded, broken, fault, space, srgb, within_limits};
use crate::assets::decode::exif;
use crate::assets::decode::jpeg::effort::within_effort;
use crate::assets::decode::jpeg::head::{JpegHead, head};
use crate::assets::decode::jpeg::walk::walk;
use crate::assets::decode::samples::SampleLayout;
use crate::assets::{JpegStream, Model, PictureFault, PictureFormat, Pixels, StatedColours};
use std::sync::Arc;

pub fn read(bytes: &[u8]) -> Result<Decoded, PictureFault> {
    let (head, model) = sized(bytes)?;
    // The walk takes nearly as long as the reading; side by side they take hardly longer than one.
    let (samples, walked) = rayon::join(|| samples::read(bytes, &head, model), || walk(bytes, model != Model::Rgb));
    if walked.whole < LEAST {
        return Err(broken(PictureFormat::Jpeg, "nothing of its picture can be read"));
    }
    let samples = samples?;
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
    if let Some((own, most)) = head.broken_step() {
        // Other readers draw them each in its own way, or not at all.
        let message = format!("a JPEG in which {own} samples of a channel stand for {most} of another");
        return Err(fault(message, "save it with all channels as fine, or some half as fine (4:4:4, 4:2:2, 4:2:0)"));
    }
    within_limits(head.width, head.height, SampleLayout::new(model, false, 8))?;
    within_effort(bytes, &head)?;
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
