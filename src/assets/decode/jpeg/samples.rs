//! The samples of a JPEG. The one door to the JPEG readers.

use crate::assets::decode::decoded::{SIZE_LIMIT, broken};
use crate::assets::decode::jpeg::head::JpegHead;
use crate::assets::{Model, PictureFault, PictureFormat};
use std::fmt::Debug;
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

/// Row by row, channels side by side; of ink 255 is a solid.
///
/// Two readers, because one of them unpacks straight into the picture, where the other needs it twice, and misreads inks of
/// which the first is coarser than another: measured, up to 229 of 255.
pub fn read(bytes: &[u8], head: &JpegHead, model: Model) -> Result<Vec<u8>, PictureFault> {
    let options = DecoderOptions::default().set_strict_mode(false).set_max_width(usize::MAX).set_max_height(usize::MAX);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().map_err(damaged)?;
    let stored = decoder.input_colorspace();
    let shown = match (model, stored) {
        (Model::Grey, Some(ColorSpace::Luma)) => ColorSpace::Luma,
        (Model::Rgb, Some(ColorSpace::YCbCr | ColorSpace::RGB)) => ColorSpace::RGB,
        (Model::Cmyk, Some(own @ (ColorSpace::CMYK | ColorSpace::YCCK))) if head.even => own,
        (Model::Cmyk, _) => return sampled_inks(bytes, head),
        _ => return Err(broken(PictureFormat::Jpeg, "its parts disagree on the colour model")),
    };
    decoder.set_options(options.jpeg_set_out_colorspace(shown));
    let expected = head.width as usize * head.height as usize * model.channels();
    if decoder.output_buffer_size() != Some(expected) {
        return Err(another_size());
    }
    let mut samples = vec![0; expected];
    decoder.decode_into(&mut samples).map_err(damaged)?;
    if shown == ColorSpace::YCCK {
        samples.as_chunks_mut().0.iter_mut().for_each(lightness_to_paper);
    }
    if model == Model::Cmyk && head.app14 {
        invert(&mut samples);
    }
    Ok(samples)
}

/// ITU-T T.871, the way back to red, green and blue, which are what cyan, magenta and yellow take away; black stands by
/// itself.
fn lightness_to_paper([one, two, three, _]: &mut [u8; 4]) {
    let [light, blue, red] = [*one, *two, *three].map(f32::from);
    let (blue, red) = (blue - 128.0, red - 128.0);
    let taken = [light + 1.402 * red, light - 0.344_136 * blue - 0.714_136 * red, light + 1.772 * blue];
    [*one, *two, *three] = taken.map(|light| 255 - light.round().clamp(0.0, 255.0) as u8);
}

/// This reader takes every CMYK file for one that counts paper, as those with an APP14 marker do; the others count ink
/// already.
fn sampled_inks(bytes: &[u8], head: &JpegHead) -> Result<Vec<u8>, PictureFault> {
    let mut decoder = jpeg_decoder::Decoder::new(bytes);
    decoder.set_max_decoding_buffer_size(SIZE_LIMIT as usize);
    let mut samples = decoder.decode().map_err(damaged)?;
    if samples.len() != head.width as usize * head.height as usize * 4 {
        return Err(another_size());
    }
    if !head.app14 {
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
    use crate::assets::Picture;
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
}
