//! PNG: grey, RGB and palette, 1 to 16 bits, with alpha, interlaced or not. The one door to the PNG reader.

use crate::assets::decode::decoded::{Decoded, broken, own_profile, plausible, within_limits};
use crate::assets::decode::exif;
use crate::assets::decode::samples::{self, SampleLayout};
use crate::assets::{Model, PictureFault, PictureFormat};
use crate::ground::MM_PER_INCH;
use ::png::{BitDepth, ColorType, Decoder, DecodingError, Info, Limits, Transformations, Unit};
use std::io::Cursor;

/// Bytes of what stands beside the pixels: profile, words.
const ASIDE_LIMIT: usize = 64 << 20;

pub fn read(bytes: &[u8]) -> Result<Decoded, PictureFault> {
    let damaged = |why: DecodingError| broken(PictureFormat::Png, why);
    let mut decoder = Decoder::new_with_limits(Cursor::new(bytes), Limits { bytes: ASIDE_LIMIT });
    decoder.set_transformations(Transformations::EXPAND);
    let mut reader = decoder.read_info().map_err(damaged)?;
    let (colour, depth) = reader.output_color_type();
    let depth = if depth == BitDepth::Sixteen { 16 } else { 8 };
    let (model, alpha) = match colour {
        ColorType::Grayscale => (Model::Grey, false),
        ColorType::GrayscaleAlpha => (Model::Grey, true),
        ColorType::Rgb | ColorType::Indexed => (Model::Rgb, false),
        ColorType::Rgba => (Model::Rgb, true),
    };
    let info = reader.info();
    let (width, height, bits) = (info.width, info.height, bits(info));
    let layout = SampleLayout::new(model, alpha, depth);
    within_limits(width, height, layout)?;
    let (ppi, orientation) =
        (ppi(info), info.exif_metadata.as_deref().map_or(1, |bytes| exif::read(bytes).orientation));
    let srgb = info.srgb.is_some();
    let profile = info.icc_profile.as_deref().and_then(|bytes| own_profile(model, bytes.to_vec()));

    let size = usize::try_from(u64::from(width) * u64::from(height) * layout.bytes_a_pixel());
    let mut buffer = vec![0; size.map_err(|why| broken(PictureFormat::Png, why))?];
    reader.next_frame(&mut buffer).map_err(damaged)?;
    if depth == 16 {
        let (pairs, _) = buffer.as_chunks::<2>();
        buffer = pairs.iter().map(|pair| samples::eight(u16::from_be_bytes(*pair))).collect();
    }
    let pixels = samples::split(buffer, model, alpha);
    Ok(Decoded { width, height, model, bits, ppi, profile, srgb, orientation, pixels, stream: None, damage: None })
}

/// A palette holds 8 bits a channel; one of two colours is line art all the same.
fn bits(info: &Info<'_>) -> u8 {
    match info.bit_depth {
        BitDepth::One => 1,
        depth if info.color_type != ColorType::Indexed => depth as u8,
        _ => 8,
    }
}

fn ppi(info: &Info<'_>) -> Option<f64> {
    let stated = info.pixel_dims.filter(|dims| dims.unit == Unit::Meter)?;
    plausible(f64::from(stated.xppu.min(stated.yppu)) * MM_PER_INCH / 1000.0)
}
