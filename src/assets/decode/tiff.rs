//! TIFF: grey, RGB and CMYK, 1 to 16 bits, with alpha. The one door to the TIFF reader.

use crate::assets::decode::decoded::{Decoded, SIZE_LIMIT, broken, fault, space, within_limits};
use crate::assets::decode::exif;
use crate::assets::decode::samples::{self, SampleLayout, SplitWords};
use crate::assets::{Model, PictureFault, PictureFormat, StatedColours};
use ::tiff::decoder::{Decoder, DecodingResult, Limits, ifd::Value};
use ::tiff::tags::{ExtraSamples, PlanarConfiguration, Tag};
use ::tiff::{ColorType, TiffError};
use std::io::Cursor;

type TiffReader<'a> = Decoder<Cursor<&'a [u8]>>;

pub fn read(bytes: &[u8]) -> Result<Decoded, PictureFault> {
    let mut limits = Limits::default();
    limits.decoding_buffer_size = SIZE_LIMIT as usize;
    limits.intermediate_buffer_size = SIZE_LIMIT as usize;
    // A profile or a list of strips may run to megabytes.
    limits.ifd_value_size = bytes.len().max(1 << 20);
    let mut reader = Decoder::new(Cursor::new(bytes)).map_err(refused)?.with_limits(limits);
    let (width, height) = reader.dimensions().map_err(refused)?;
    let kind = kind(&mut reader)?;
    within_limits(width, height, SampleLayout::new(kind.model, kind.alpha, kind.bits.max(8)))?;

    let channels = kind.model.channels() + usize::from(kind.alpha);
    let whole = |samples: usize| {
        let stated = u64::from(width) * u64::from(height) * channels as u64;
        let message = "it decodes to another size than it states";
        if samples as u64 == stated { Ok(()) } else { Err(broken(PictureFormat::Tiff, message)) }
    };
    let mut pixels = match reader.read_image().map_err(refused)? {
        DecodingResult::U8(bytes) => {
            let bytes = if kind.bits < 8 { unpacked(&bytes, kind.bits, width as usize) } else { bytes };
            let samples = without_others(bytes, kind.stored, channels);
            whole(samples.len())?;
            samples::split(samples, kind.model, kind.alpha)
        }
        DecodingResult::U16(words) => {
            let words = without_others(words, kind.stored, channels);
            whole(words.len())?;
            let mut split = SplitWords::new(kind.model, kind.alpha, width as usize * height as usize);
            split.add(&words);
            split.pixels()
        }
        _ => return Err(fault("a TIFF of floating-point or signed samples", DEPTHS)),
    };
    if kind.mixed {
        samples::unmix(&mut pixels, kind.model.channels());
    }
    let profile = reader.find_tag(Tag::IccProfile).ok().flatten().and_then(|tag| tag.into_u8_vec().ok());
    let unit = number(&mut reader, Tag::ResolutionUnit).unwrap_or(2);
    let (across, down) = (ratio(&mut reader, Tag::XResolution), ratio(&mut reader, Tag::YResolution));
    Ok(Decoded {
        width,
        height,
        model: kind.model,
        bits: kind.bits,
        ppi: exif::resolution(unit, across, down),
        space: space(kind.model, profile, StatedColours::Unstated),
        orientation: number(&mut reader, Tag::Orientation).and_then(|number| u8::try_from(number).ok()).unwrap_or(1),
        pixels,
        stream: None,
        damage: None,
    })
}

const DEPTHS: &str = "save it with 8 or 16 bits a channel";
const MODELS: &str = "save it as RGB, grey or CMYK, uncompressed or with LZW";

struct TiffKind {
    model: Model,
    bits: u8,
    alpha: bool,
    /// The colour is already mixed with its alpha ("associated").
    mixed: bool,
    /// Channels the reader hands over.
    stored: usize,
}

fn kind(reader: &mut TiffReader<'_>) -> Result<TiffKind, PictureFault> {
    let all = number(reader, Tag::SamplesPerPixel).unwrap_or(1);
    if all > 1 && number(reader, Tag::PlanarConfiguration) == Some(PlanarConfiguration::Planar.to_u16()) {
        return Err(fault("a TIFF stored plane by plane", "save it with interleaved (per pixel) channels"));
    }
    let extra: Option<Vec<u16>> = reader.find_tag_unsigned_vec(Tag::ExtraSamples).ok().flatten();
    let extra = extra.and_then(|extra| extra.first().copied());
    let mixed = extra == Some(ExtraSamples::AssociatedAlpha.to_u16());
    let veiled = mixed || extra == Some(ExtraSamples::UnassociatedAlpha.to_u16());
    let (model, bits, alpha, stored) = match reader.colortype().map_err(refused)? {
        ColorType::Gray(bits) => (Model::Grey, bits, false, 1),
        ColorType::Multiband { bit_depth, num_samples } => (Model::Grey, bit_depth, veiled, usize::from(num_samples)),
        ColorType::RGB(bits) => (Model::Rgb, bits, false, 3),
        ColorType::RGBA(bits) => (Model::Rgb, bits, true, 4),
        ColorType::CMYK(bits) => (Model::Cmyk, bits, false, 4),
        ColorType::CMYKA(bits) => (Model::Cmyk, bits, true, 5),
        ColorType::YCbCr(_) => return Err(fault("a TIFF of YCbCr samples", MODELS)),
        ColorType::Lab(_) => return Err(fault("a TIFF of Lab samples", MODELS)),
        _ => return Err(fault("a TIFF of a colour model we do not read", MODELS)),
    };
    let line_art = matches!(bits, 1 | 2 | 4) && stored == 1;
    if !line_art && bits != 8 && bits != 16 {
        return Err(fault(format!("a TIFF of {bits} bits a channel"), DEPTHS));
    }
    Ok(TiffKind { model, bits, alpha, mixed, stored })
}

/// Rows of 1, 2 or 4 bits a sample, each row padded to a whole byte.
fn unpacked(bytes: &[u8], bits: u8, width: usize) -> Vec<u8> {
    let (in_a_byte, most) = (usize::from(8 / bits), (1_u8 << bits) - 1);
    let mut samples = Vec::with_capacity(bytes.len() * in_a_byte);
    for row in bytes.chunks_exact(width.div_ceil(in_a_byte)) {
        samples.extend((0..width).map(|x| {
            let shift = 8 - bits * (1 + (x % in_a_byte) as u8);
            (row[x / in_a_byte] >> shift & most) * (255 / most)
        }));
    }
    samples
}

/// Channels beyond colour and alpha are masks and notes of the program that wrote the file.
fn without_others<T: Copy>(samples: Vec<T>, stored: usize, kept: usize) -> Vec<T> {
    if stored == kept {
        return samples;
    }
    samples.chunks_exact(stored).flat_map(|pixel| pixel[..kept].iter().copied()).collect()
}

fn number(reader: &mut TiffReader<'_>, tag: Tag) -> Option<u16> {
    reader.find_tag_unsigned(tag).ok().flatten()
}

fn ratio(reader: &mut TiffReader<'_>, tag: Tag) -> Option<f64> {
    match reader.find_tag(tag).ok().flatten()? {
        Value::Rational(above, below) if below != 0 => Some(f64::from(above) / f64::from(below)),
        _ => None,
    }
}

fn refused(why: TiffError) -> PictureFault {
    match why {
        TiffError::UnsupportedError(what) => fault(format!("a kind of TIFF we do not read ({what})"), MODELS),
        TiffError::LimitsExceeded => fault("a TIFF larger than we read", "place a smaller picture"),
        other => broken(PictureFormat::Tiff, other),
    }
}
