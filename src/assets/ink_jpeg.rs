//! Ink JPEG: samples of ink as a JPEG for a press file, where a cover asks for fewer bytes than its very pixels need.

use crate::assets::JpegStream;
use jpeg_encoder::{ColorType, Encoder, QuantizationTableType, SamplingFactor};
use std::sync::Arc;

/// Samples of ink, 255 a solid, one channel of black or four, as a JPEG by the quality of the JPEG committee's example tables.
/// All inks are as fine as each other. `None` where a JPEG holds no picture of this size.
pub fn ink_jpeg(samples: &[u8], (width, height): (u32, u32), plates: usize, quality: u8) -> Option<JpegStream> {
    let (width, height) = (u16::try_from(width).ok()?, u16::try_from(height).ok()?);
    let grey = plates == 1;
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, quality);
    encoder.set_sampling_factor(SamplingFactor::F_1_1);
    encoder.set_optimized_huffman_tables(true);
    // Left alone, the encoder takes cyan, magenta and yellow for chroma, of which an eye sees less.
    encoder.set_quantization_tables(
        QuantizationTableType::Default,
        QuantizationTableType::Custom(Box::new(steps(quality))),
    );
    let written = if grey {
        let light: Vec<u8> = samples.iter().map(|ink| 255 - ink).collect();
        encoder.encode(&light, width, height, ColorType::Luma)
    } else {
        encoder.encode(samples, width, height, ColorType::Cmyk)
    };
    // Of four channels the encoder counts paper, and says so by APP14, as is the habit.
    written.ok().map(|()| JpegStream { bytes: Arc::new(bytes), grey, inverted: !grey })
}

/// ITU-T T.81, table K.1: steps for lightness, of quality 50.
const LIGHTNESS: [u16; 64] = [
    16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51,
    87, 80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49, 64, 78, 87, 103, 121, 120, 101,
    72, 92, 95, 98, 112, 100, 103, 99,
];

/// The steps of a quality, as the Independent JPEG Group counts it: twice as fine at 75, all 1 at 100.
fn steps(quality: u8) -> [u16; 64] {
    let quality = u32::from(quality.clamp(1, 100));
    let percent = if quality < 50 { 5000 / quality } else { 200 - 2 * quality };
    LIGHTNESS.map(|step| ((u32::from(step) * percent + 50) / 100).clamp(1, 255) as u16)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// T.81, B.2.4.1: a table stands behind FF DB, its length and its number; both are of one quality.
    #[test]
    fn all_inks_have_the_steps_of_lightness() {
        let stream = ink_jpeg(&[9; 64 * 4], (8, 8), 4, 75).expect("a small picture");
        let tables: Vec<&[u8]> = stream.bytes.windows(69).filter(|bytes| bytes[..4] == [0xFF, 0xDB, 0, 67]).collect();
        assert!(tables.len() == 2 && tables[0][5..] == tables[1][5..], "{tables:?}");
    }

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
