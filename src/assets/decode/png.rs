//! PNG: grey, RGB and palette, 1 to 16 bits, with alpha, interlaced or not. The one door to the PNG reader.

use crate::assets::decode::decoded::{self, Decoded, broken, plausible, within_limits};
use crate::assets::decode::exif;
use crate::assets::decode::samples::{self, SampleLayout, SplitWords};
use crate::assets::{Model, PictureFault, PictureFormat, Pixels, Primaries, StatedColours};
use crate::ground::MM_PER_INCH;
use ::png::{BitDepth, ColorType, Decoder, DecodingError, Info, Limits, Reader, ScaledFloat, Transformations, Unit};
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
    let space = space(info, model);

    let pixels = if depth == 16 { deep(&mut reader, model, alpha) } else { plain(&mut reader, model, alpha) };
    let pixels = pixels.map_err(damaged)?;
    Ok(Decoded { width, height, model, bits, ppi, space, orientation, pixels, stream: None, damage: None })
}

type PngReader<'a> = Reader<Cursor<&'a [u8]>>;

fn plain(reader: &mut PngReader<'_>, model: Model, alpha: bool) -> Result<Pixels, DecodingError> {
    Ok(samples::split(whole(reader)?, model, alpha))
}

fn whole(reader: &mut PngReader<'_>) -> Result<Vec<u8>, DecodingError> {
    let mut buffer = vec![0; reader.output_buffer_size().ok_or(DecodingError::LimitsExceeded)?];
    reader.next_frame(&mut buffer)?;
    Ok(buffer)
}

/// Samples of 16 bits, row by row where the file has them so: whole they take as much again as what becomes of them.
fn deep(reader: &mut PngReader<'_>, model: Model, alpha: bool) -> Result<Pixels, DecodingError> {
    let words =
        |bytes: &[u8]| -> Vec<u16> { bytes.as_chunks().0.iter().map(|pair| u16::from_be_bytes(*pair)).collect() };
    let (width, height) = (reader.info().width as usize, reader.info().height as usize);
    let mut split = SplitWords::new(model, alpha, width * height);
    if reader.info().interlaced {
        let buffer = whole(reader)?;
        buffer.chunks(buffer.len() / height).for_each(|row| split.add(&words(row)));
    } else {
        while let Some(row) = reader.next_row()? {
            split.add(&words(row.data()));
        }
    }
    Ok(split.pixels())
}

/// The exponent that files of sRGB state beside or instead of it (PNG, 11.3.3: 45455).
const SRGB_GAMMA: f64 = 0.454_55;
/// ITU-T H.273: the primaries and the curve of sRGB.
const SRGB_CODES: (u8, u8) = (1, 13);

/// What stands first in the order of PNG (third edition, 4.3): cICP, iCCP, sRGB, then gAMA and cHRM.
fn space(info: &Info<'_>, model: Model) -> StatedColours {
    if let Some(codes) = &info.coding_independent_code_points {
        let (primaries, curve) = (codes.color_primaries, codes.transfer_function);
        if (primaries, curve) == SRGB_CODES {
            return StatedColours::Srgb;
        }
        if info.icc_profile.is_none() {
            return StatedColours::Unusable(format!(
                "its cICP chunk states primaries {primaries} and curve {curve}, which we do not read"
            ));
        }
    }
    let otherwise = if info.srgb.is_some() { StatedColours::Srgb } else { light(info) };
    decoded::space(model, info.icc_profile.as_deref().map(<[u8]>::to_vec), otherwise)
}

fn light(info: &Info<'_>) -> StatedColours {
    let stated = info.chrm_chunk.as_ref().map(|all| {
        let place = |(x, y): (ScaledFloat, ScaledFloat)| [f64::from(x.into_value()), f64::from(y.into_value())];
        let [white, red, green, blue] = [all.white, all.red, all.green, all.blue].map(place);
        Primaries { white, red, green, blue }
    });
    let primaries = stated.filter(|stated| !stated.near(&Primaries::SRGB));
    let gamma = info.gama_chunk.map(|gamma| f64::from(gamma.into_value())).filter(|gamma| *gamma > 0.0);
    match (gamma, primaries) {
        (None, None) => decoded::srgb(stated.is_some()),
        (Some(gamma), None) if (gamma - SRGB_GAMMA).abs() < 1e-4 => StatedColours::Srgb,
        (gamma, primaries) => StatedColours::Light { gamma: 1.0 / gamma.unwrap_or(SRGB_GAMMA), primaries },
    }
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
