//! Samples: channels taken apart, sixteen bits made eight, alpha kept beside the colour and straight.

use crate::assets::{Model, Pixels, eight};
use std::sync::Arc;

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

    /// Bytes of a pixel and of its ink, which lie in memory together; CMYK is ink already.
    pub fn bytes_with_ink(self) -> u64 {
        let ink = match self.model {
            Model::Grey => 1,
            Model::Rgb => 4,
            Model::Cmyk => 0,
        };
        self.model.channels() as u64 * u64::from(self.depth / 8) + u64::from(self.alpha) + ink
    }
}

/// Interleaved samples as pixels; alpha goes when every pixel is opaque. Colour stays where it is: a large picture has no
/// room beside itself.
pub fn split(mut samples: Vec<u8>, model: Model, alpha: bool) -> Pixels {
    if !alpha {
        return Pixels::opaque(samples);
    }
    let veil = match model {
        Model::Grey => lift::<1, 2>(&mut samples),
        Model::Rgb => lift::<3, 4>(&mut samples),
        Model::Cmyk => lift::<4, 5>(&mut samples),
    };
    let opaque = veil.iter().all(|alpha| *alpha == 255);
    Pixels { samples: Arc::new(samples), fine: None, alpha: (!opaque).then_some(veil) }
}

/// Words of 16 bits, taken apart as they come: what eight bits leave of a colour is kept beside it, and alpha is eight bits of
/// it.
pub struct SplitWords {
    colours: usize,
    alpha: bool,
    samples: Vec<u8>,
    fine: Vec<i8>,
    veil: Vec<u8>,
}

impl SplitWords {
    /// Room for so many pixels.
    pub fn new(model: Model, alpha: bool, pixels: usize) -> SplitWords {
        let colours = model.channels();
        let [samples, veil] = [pixels * colours, if alpha { pixels } else { 0 }].map(Vec::with_capacity);
        SplitWords { colours, alpha, samples, fine: Vec::with_capacity(pixels * colours), veil }
    }

    /// Whole pixels.
    pub fn add(&mut self, words: &[u16]) {
        for pixel in words.chunks_exact(self.colours + usize::from(self.alpha)) {
            let (colour, veil) = pixel.split_at(self.colours);
            self.veil.extend(veil.iter().map(|word| eight(*word)));
            for word in colour {
                let sample = eight(*word);
                self.samples.push(sample);
                self.fine.push((i32::from(*word) - 257 * i32::from(sample)).min(i32::from(i8::MAX)) as i8);
            }
        }
    }

    /// Alpha goes when every pixel is opaque.
    pub fn pixels(self) -> Pixels {
        let clear = self.veil.iter().any(|alpha| *alpha < 255);
        let (samples, fine) = (Arc::new(self.samples), Some(Arc::new(self.fine)));
        Pixels { samples, fine, alpha: clear.then_some(self.veil) }
    }
}

/// Takes the last of every pixel's samples out; the others close up.
fn lift<const COLOUR: usize, const ALL: usize>(samples: &mut Vec<u8>) -> Vec<u8> {
    let pixels = samples.len() / ALL;
    let mut lifted = Vec::with_capacity(pixels);
    for at in 0..pixels {
        let mut pixel = [0; ALL];
        pixel.copy_from_slice(&samples[at * ALL..(at + 1) * ALL]);
        samples[at * COLOUR..(at + 1) * COLOUR].copy_from_slice(&pixel[..COLOUR]);
        lifted.push(pixel[COLOUR]);
    }
    samples.truncate(pixels * COLOUR);
    samples.shrink_to_fit();
    lifted
}

/// Colour that was written already mixed with its alpha, as if it had not been.
pub fn unmix(pixels: &mut Pixels, channels: usize) {
    let Some(alpha) = &pixels.alpha else { return };
    pixels.fine = None;
    for (pixel, alpha) in Arc::make_mut(&mut pixels.samples).chunks_exact_mut(channels).zip(alpha) {
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
    fn sixteen_bits_come_back() {
        let split_words = |words: &[u16], alpha: bool| {
            let mut split = SplitWords::new(Model::Grey, alpha, words.len());
            words.chunks(4).for_each(|words| split.add(words));
            split.pixels()
        };
        let words: Vec<u16> = (0..=u16::MAX).collect();
        let back = split_words(&words, false).words(0..words.len());
        // A sample half-way between two samples of 8 bits keeps one step less.
        assert!(words.iter().zip(&back).all(|(word, back)| word - back <= 1));
        let veiled = split_words(&[1000, 65_535, 2000, 32_896], true);
        assert_eq!((veiled.words(0..2), veiled.alpha), (vec![1000, 2000], Some(vec![255, 128])));
    }

    #[test]
    fn alpha_stands_beside_the_colour_and_goes_when_it_says_nothing() {
        let pixels = split(vec![10, 128, 20, 255], Model::Grey, true);
        assert_eq!((pixels.samples.to_vec(), pixels.alpha), (vec![10, 20], Some(vec![128, 255])));
        let pixels = split(vec![1, 2, 3, 9, 4, 5, 6, 8], Model::Rgb, true);
        assert_eq!((pixels.samples.to_vec(), pixels.alpha), (vec![1, 2, 3, 4, 5, 6], Some(vec![9, 8])));
        let pixels = split(vec![1, 2, 3, 4, 9, 5, 6, 7, 8, 0], Model::Cmyk, true);
        assert_eq!((pixels.samples.to_vec(), pixels.alpha), (vec![1, 2, 3, 4, 5, 6, 7, 8], Some(vec![9, 0])));
        assert!(split(vec![10, 255, 20, 255], Model::Grey, true).alpha.is_none());
    }

    #[test]
    fn mixed_colour_is_unmixed() {
        let mut pixels = Pixels { samples: Arc::new(vec![64, 0, 128, 9, 9, 9]), fine: None, alpha: Some(vec![128, 0]) };
        unmix(&mut pixels, 3);
        assert_eq!(*pixels.samples, [128, 0, 255, 0, 0, 0]);
    }
}
