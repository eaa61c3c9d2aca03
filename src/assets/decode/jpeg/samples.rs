//! The samples of a JPEG. The one door to the JPEG readers.

use crate::assets::decode::decoded::{SIZE_LIMIT, broken};
use crate::assets::decode::jpeg::effort::within_memory;
use crate::assets::decode::jpeg::head::JpegHead;
use crate::assets::decode::jpeg::lone::lone;
use crate::assets::decode::jpeg::spread::Plane;
use crate::assets::{Model, PictureFault, PictureFormat};
use jpeg_decoder::ColorTransform;
use std::fmt::Debug;
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

/// Row by row, channels side by side; of ink 255 is a solid.
///
/// Two readers, because one of them unpacks straight into the picture, where the other needs it twice, but misreads inks of which
/// the first is coarser than another (measured, up to 229 of 255), and channels a quarter as high; a third as fine it reads none.
/// A progressive file is read component by component.
pub fn read(bytes: &[u8], head: &JpegHead, model: Model) -> Result<Vec<u8>, PictureFault> {
    let stored = stored(bytes, head)?;
    let apart = if head.progressive && model != Model::Grey { by_components(bytes, head) } else { None };
    if apart.is_none() {
        within_memory(head)?;
    }
    let shown = match (model, stored) {
        (Model::Grey, Some(ColorSpace::Luma)) if head.is_usual() => ColorSpace::Luma,
        (Model::Rgb, Some(ColorSpace::YCbCr | ColorSpace::RGB)) if head.is_usual() || apart.is_some() => {
            ColorSpace::RGB
        }
        (Model::Cmyk, Some(own @ (ColorSpace::CMYK | ColorSpace::YCCK)))
            if head.is_even() && head.is_usual() || apart.is_some() =>
        {
            own
        }
        (Model::Rgb, Some(ColorSpace::YCbCr)) => return sampled(bytes, head, Some(ColorTransform::YCbCr)),
        (Model::Rgb, Some(ColorSpace::RGB)) => return sampled(bytes, head, Some(ColorTransform::RGB)),
        (Model::Grey, Some(ColorSpace::Luma)) | (Model::Cmyk, _) => return sampled(bytes, head, None),
        _ => return Err(broken(PictureFormat::Jpeg, "its parts disagree on the colour model")),
    };
    let mut samples = match apart {
        Some(mut samples) => {
            if stored == Some(ColorSpace::YCbCr) {
                samples.as_chunks_mut().0.iter_mut().for_each(|lightness| *lightness = light(*lightness));
            }
            samples
        }
        None => unpacked(bytes, shown, head.width as usize * head.height as usize * model.channels())?,
    };
    if shown == ColorSpace::YCCK {
        samples.as_chunks_mut().0.iter_mut().for_each(lightness_to_paper);
    }
    if model == Model::Cmyk && head.app14 {
        invert(&mut samples);
    }
    Ok(samples)
}

/// What its channels are, as its head says. How fine they are does not matter to that, so that the reader is not shown it.
fn stored(bytes: &[u8], head: &JpegHead) -> Result<Option<ColorSpace>, PictureFault> {
    let mut before = bytes[..head.scan_at].to_vec();
    before[head.listed_at..].iter_mut().skip(1).step_by(3).take(head.factors.len()).for_each(|factors| *factors = 0x11);
    let mut decoder = reader(&before, None);
    decoder.decode_headers().map_err(damaged)?;
    Ok(decoder.input_colorspace())
}

fn reader(bytes: &[u8], shown: Option<ColorSpace>) -> JpegDecoder<ZCursor<&[u8]>> {
    let options = DecoderOptions::default().set_strict_mode(false).set_max_width(usize::MAX).set_max_height(usize::MAX);
    let options = shown.map_or(options, |shown| options.jpeg_set_out_colorspace(shown));
    JpegDecoder::new_with_options(ZCursor::new(bytes), options)
}

fn unpacked(bytes: &[u8], shown: ColorSpace, expected: usize) -> Result<Vec<u8>, PictureFault> {
    let mut decoder = reader(bytes, Some(shown));
    decoder.decode_headers().map_err(damaged)?;
    if decoder.output_buffer_size() != Some(expected) {
        return Err(another_size());
    }
    let mut samples = vec![0; expected];
    decoder.decode_into(&mut samples).map_err(damaged)?;
    Ok(samples)
}

/// As they are stored; `None` where the file cannot be taken apart.
fn by_components(bytes: &[u8], head: &JpegHead) -> Option<Vec<u8>> {
    let (width, channels) = (head.width as usize, usize::from(head.channels));
    let mut samples = vec![0; width * head.height as usize * channels];
    for channel in 0..channels {
        let own = lone(bytes, channel)?;
        let plane = unpacked(&own.file, ColorSpace::Luma, own.width * own.height).ok()?;
        let plane = Plane { samples: &plane, size: (own.width, own.height), step: own.step };
        plane.spread(&mut samples, width, (channel, channels));
    }
    Some(samples)
}

/// ITU-T T.871, the way back to red, green and blue.
fn light(lightness: [u8; 3]) -> [u8; 3] {
    let [light, blue, red] = lightness.map(f32::from);
    let (blue, red) = (blue - 128.0, red - 128.0);
    let light = [light + 1.402 * red, light - 0.344_136 * blue - 0.714_136 * red, light + 1.772 * blue];
    light.map(|light| light.round().clamp(0.0, 255.0) as u8)
}

/// Light is what cyan, magenta and yellow take away; black stands by itself.
fn lightness_to_paper([one, two, three, _]: &mut [u8; 4]) {
    [*one, *two, *three] = light([*one, *two, *three]).map(|light| 255 - light);
}

/// Channels of any fineness. This reader takes every CMYK file for one that counts paper, as those with an APP14 marker do; the
/// others count ink already.
fn sampled(bytes: &[u8], head: &JpegHead, stored: Option<ColorTransform>) -> Result<Vec<u8>, PictureFault> {
    let mut decoder = jpeg_decoder::Decoder::new(bytes);
    decoder.set_max_decoding_buffer_size(SIZE_LIMIT as usize);
    if let Some(stored) = stored {
        decoder.set_color_transform(stored);
    }
    let mut samples = decoder.decode().map_err(damaged)?;
    if samples.len() != head.width as usize * head.height as usize * usize::from(head.channels) {
        return Err(another_size());
    }
    if head.channels == 4 && !head.app14 {
        invert(&mut samples);
    }
    Ok(samples)
}

fn invert(samples: &mut [u8]) {
    for sample in samples {
        *sample = 255 - *sample;
    }
}

fn another_size() -> PictureFault {
    broken(PictureFormat::Jpeg, "it decodes to another size than it states")
}

fn damaged(why: impl Debug) -> PictureFault {
    broken(PictureFormat::Jpeg, format!("{why:?}").trim_matches('"'))
}

#[cfg(test)]
mod tests {
    use crate::assets::{Model, Picture};
    use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

    /// Inks as they were given to another library's writer, to what its steps at quality 97 leave of them; whichever inks it
    /// makes coarser, in one go or bit by bit.
    #[test]
    fn inks_are_read_as_they_were_written() {
        let (width, height) = (83_u16, 61_u16);
        let wave = |at: usize, slow: f64| {
            let (x, y) = (at % usize::from(width), at / usize::from(width));
            (128.0 + 100.0 * (x as f64 / slow).sin() * (y as f64 / (slow + 4.0)).cos()) as u8
        };
        let inks: Vec<u8> = (0..usize::from(width) * usize::from(height))
            .flat_map(|at| [21.0, 26.0, 31.0, 36.0].map(|slow| wave(at, slow)))
            .collect();
        for kind in [ColorType::Cmyk, ColorType::CmykAsYcck] {
            for coarser in [SamplingFactor::F_1_1, SamplingFactor::F_2_1, SamplingFactor::F_1_2, SamplingFactor::F_2_2]
            {
                for bit_by_bit in [false, true] {
                    let mut file = Vec::new();
                    let mut encoder = Encoder::new(&mut file, 97);
                    encoder.set_sampling_factor(coarser);
                    encoder.set_progressive(bit_by_bit);
                    encoder.encode(&inks, width, height, kind).expect("writes to memory");
                    let picture = Picture::open("a.jpg", file.into()).expect("reads");
                    let read = &picture.pixels().samples;
                    let off = read.iter().zip(&inks).map(|(read, given)| read.abs_diff(*given)).max();
                    assert!(off.is_some_and(|off| off <= 9), "{kind:?} {coarser:?} {bit_by_bit}: {off:?}");
                }
            }
        }
    }

    /// Taken apart, a progressive file of light is what another library reads of it whole, to the rounding of its
    /// transforms; with restarts and without, however coarse its colours are.
    #[test]
    fn progressive_light_is_what_another_reader_sees() {
        let (width, height) = (93_u16, 67_u16);
        let light: Vec<u8> = (0..usize::from(width) * usize::from(height))
            .flat_map(|at| {
                let (x, y) = ((at % usize::from(width)) as f64, (at / usize::from(width)) as f64);
                [x / 9.0, y / 13.0, (x + y) / 17.0].map(|at| (128.0 + 110.0 * at.sin()) as u8)
            })
            .collect();
        for coarser in [SamplingFactor::F_1_1, SamplingFactor::F_2_1, SamplingFactor::F_1_2, SamplingFactor::F_2_2] {
            for restarts in [0, 3] {
                let mut file = Vec::new();
                let mut encoder = Encoder::new(&mut file, 90);
                encoder.set_sampling_factor(coarser);
                encoder.set_progressive(true);
                encoder.set_restart_interval(restarts);
                encoder.encode(&light, width, height, ColorType::Rgb).expect("writes to memory");
                assert!(super::lone(&file, 2).is_some_and(|own| own.width <= usize::from(width)));
                let other = jpeg_decoder::Decoder::new(&file[..]).decode().expect("reads");
                let picture = Picture::open("a.jpg", file.into()).expect("reads");
                assert_eq!(picture.model(), Model::Rgb);
                let off = picture.pixels().samples.iter().zip(&other).map(|(own, other)| own.abs_diff(*other)).max();
                assert!(off.is_some_and(|off| off <= 4), "{coarser:?} {restarts}: {off:?}");
            }
        }
    }
}
