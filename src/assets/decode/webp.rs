//! WebP, lossy and lossless, with alpha.

use crate::assets::decode::decoded::{Decoded, broken, space, srgb, within_limits};
use crate::assets::decode::exif;
use crate::assets::decode::samples::{self, SampleLayout};
use crate::assets::{Model, PictureFault, PictureFormat};
use image::codecs::webp::WebPDecoder;
use image::{ColorType, ImageDecoder, ImageError};
use std::io::Cursor;

pub fn read(bytes: &[u8]) -> Result<Decoded, PictureFault> {
    let damaged = |why: ImageError| broken(PictureFormat::Webp, why);
    let mut decoder = WebPDecoder::new(Cursor::new(bytes)).map_err(damaged)?;
    let (width, height) = decoder.dimensions();
    let alpha = decoder.color_type() == ColorType::Rgba8;
    let layout = SampleLayout::new(Model::Rgb, alpha, 8);
    within_limits(width, height, layout)?;
    let exif = decoder.exif_metadata().map_err(damaged)?.map(|bytes| exif::read(&bytes));
    let profile = decoder.icc_profile().map_err(damaged)?;
    let mut buffer = vec![0; decoder.total_bytes() as usize];
    decoder.read_image(&mut buffer).map_err(damaged)?;
    Ok(Decoded {
        width,
        height,
        model: Model::Rgb,
        bits: 8,
        ppi: exif.as_ref().and_then(|exif| exif.ppi),
        space: space(Model::Rgb, profile, srgb(exif.as_ref().is_some_and(|exif| exif.srgb))),
        orientation: exif.map_or(1, |exif| exif.orientation),
        pixels: samples::split(buffer, Model::Rgb, alpha),
        stream: None,
        damage: None,
    })
}
