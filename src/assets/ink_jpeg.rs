//! Ink JPEG: samples of ink as a JPEG for a press file, where a cover asks for fewer bytes than its very pixels need.

use crate::assets::JpegStream;
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

/// Samples of ink, 255 a solid, one channel of black or four, as a JPEG by the quality of the JPEG committee's example tables.
/// All inks are as fine as each other. `None` where a JPEG holds no picture of this size.
pub fn ink_jpeg(samples: &[u8], (width, height): (u32, u32), plates: usize, quality: u8) -> Option<JpegStream> {
    let (width, height) = (u16::try_from(width).ok()?, u16::try_from(height).ok()?);
    let grey = plates == 1;
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, quality);
    encoder.set_sampling_factor(SamplingFactor::F_1_1);
    encoder.set_optimized_huffman_tables(true);
    let written = if grey {
        let light: Vec<u8> = samples.iter().map(|ink| 255 - ink).collect();
        encoder.encode(&light, width, height, ColorType::Luma)
    } else {
        encoder.encode(samples, width, height, ColorType::Cmyk)
    };
    // Of four channels the encoder counts paper, and says so by APP14, as is the habit.
    written.ok().map(|()| JpegStream { bytes: bytes.into(), grey, inverted: !grey })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Another library reads what was meant, to a few 255ths at a high quality.
    #[test]
    fn inks_come_back() {
        let side = 32_u32;
        let wave = |at: u32, ink: u32| (f64::from(at % side + at / side * ink) * 4.0).min(255.0) as u8;
        let four: Vec<u8> = (0..side * side).flat_map(|at| [0, 1, 2, 3].map(|ink| wave(at, ink))).collect();
        let grey: Vec<u8> = (0..side * side).map(|at| wave(at, 1)).collect();
        for (samples, plates) in [(four, 4), (grey, 1)] {
            let stream = ink_jpeg(&samples, (side, side), plates, 95).expect("a small picture");
            let read = jpeg_decoder::Decoder::new(&stream.bytes[..]).decode().expect("it reads");
            // The reader turns four channels that count paper into ink.
            let ink = |sample: u8| if stream.grey { 255 - sample } else { sample };
            let off = read.iter().zip(&samples).map(|(one, other)| ink(*one).abs_diff(*other)).max();
            assert!(off.is_some_and(|off| off <= 6), "{plates}: {off:?}");
        }
        assert_eq!(ink_jpeg(&[], (70_000, 1), 1, 90), None);
    }
}
