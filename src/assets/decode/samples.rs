//! Samples: channels taken apart, sixteen bits made eight, alpha kept beside the colour and straight.

use crate::assets::{Model, Pixels};

/// How samples lie in a reader's buffer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SampleLayout {
    pub model: Model,
    pub alpha: bool,
    /// 8 or 16.
    pub depth: u8,
}

impl SampleLayout {
    pub fn new(model: Model, alpha: bool, depth: u8) -> SampleLayout {
        SampleLayout { model, alpha, depth }
    }

    pub fn bytes_a_pixel(self) -> u64 {
        (self.model.channels() as u64 + u64::from(self.alpha)) * u64::from(self.depth / 8)
    }
}

/// Interleaved samples as pixels; alpha goes when every pixel is opaque.
pub fn split(samples: Vec<u8>, model: Model, alpha: bool) -> Pixels {
    if !alpha {
        return Pixels { samples, alpha: None };
    }
    let channels = model.channels();
    let pixels = samples.len() / (channels + 1);
    let mut colour = Vec::with_capacity(pixels * channels);
    let mut veil = Vec::with_capacity(pixels);
    for pixel in samples.chunks_exact(channels + 1) {
        colour.extend_from_slice(&pixel[..channels]);
        veil.push(pixel[channels]);
    }
    let opaque = veil.iter().all(|alpha| *alpha == 255);
    Pixels { samples: colour, alpha: (!opaque).then_some(veil) }
}

/// Sixteen bits to eight, to the nearest.
pub fn eight(sample: u16) -> u8 {
    ((u32::from(sample) * 255 + 32_895) >> 16) as u8
}

/// Colour that was written already mixed with its alpha, as if it had not been.
pub fn unmix(pixels: &mut Pixels, channels: usize) {
    let Some(alpha) = &pixels.alpha else { return };
    for (pixel, alpha) in pixels.samples.chunks_exact_mut(channels).zip(alpha) {
        let alpha = u32::from(*alpha);
        for sample in pixel {
            // Nothing can be known of a pixel wholly clear.
            *sample = (u32::from(*sample) * 255 + alpha / 2).checked_div(alpha).unwrap_or(0).min(255) as u8;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sixteen_bits_round_to_the_nearest_eighth() {
        for sample in 0..=u16::MAX {
            assert_eq!(i32::from(eight(sample)), (f64::from(sample) / 257.0).round() as i32, "{sample}");
        }
    }

    #[test]
    fn alpha_stands_beside_the_colour_and_goes_when_it_says_nothing() {
        let pixels = split(vec![10, 128, 20, 255], Model::Grey, true);
        assert_eq!((pixels.samples, pixels.alpha), (vec![10, 20], Some(vec![128, 255])));
        assert!(split(vec![10, 255, 20, 255], Model::Grey, true).alpha.is_none());
    }

    #[test]
    fn mixed_colour_is_unmixed() {
        let mut pixels = Pixels { samples: vec![64, 0, 128, 9, 9, 9], alpha: Some(vec![128, 0]) };
        unmix(&mut pixels, 3);
        assert_eq!(pixels.samples, [128, 0, 255, 0, 0, 0]);
    }
}
