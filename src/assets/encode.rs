//! Encode: sRGB pixels as a JPEG that says so.

use crate::assets::profile::srgb_profile;
use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder};

/// Worse ones show blocks round every letter. Ours.
pub const LEAST_QUALITY: u8 = 40;
const BEST_QUALITY: u8 = 100;
/// The bytes of a JPEG before its first segment.
const START: usize = 2;
const APP1: [u8; 2] = [0xFF, 0xE1];
const XMP: &[u8] = b"http://ns.adobe.com/xap/1.0/\0";

/// What decides how many bytes a JPEG has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JpegWeight {
    Quality(u8),
    /// The best quality with at most so many bytes.
    AtMost(u64),
}

/// Pixels, 8 bit, three a pixel.
#[derive(Clone, Copy)]
pub struct ScreenPixels<'a> {
    pub width: usize,
    pub height: usize,
    pub rgb: &'a [u8],
}

impl ScreenPixels<'_> {
    /// A file of the wanted weight, or the worst that we write, where that weighs more. It carries a packet of XMP, if there
    /// is one.
    pub fn jpeg(&self, weight: JpegWeight, xmp: &str) -> Vec<u8> {
        let most = match weight {
            JpegWeight::Quality(quality) => return self.jpeg_of(quality, xmp),
            JpegWeight::AtMost(most) => most,
        };
        let light = |file: &[u8]| file.len() as u64 <= most;
        let best = self.jpeg_of(BEST_QUALITY, xmp);
        let mut found = self.jpeg_of(LEAST_QUALITY, xmp);
        if light(&best) || !light(&found) {
            return if light(&best) { best } else { found };
        }
        // The lower quality is light enough and the upper one is not, until they are neighbours.
        let (mut lower, mut upper) = (LEAST_QUALITY, BEST_QUALITY);
        while upper - lower > 1 {
            let middle = u8::midpoint(lower, upper);
            let file = self.jpeg_of(middle, xmp);
            if light(&file) {
                (lower, found) = (middle, file);
            } else {
                upper = middle;
            }
        }
        found
    }

    /// By the quality of the JPEG committee's example tables, 1 to 100. Colour is as fine as light: no pixels are shared.
    fn jpeg_of(&self, quality: u8, xmp: &str) -> Vec<u8> {
        let mut file = Vec::new();
        let mut encoder = JpegEncoder::new_with_quality(&mut file, quality);
        encoder.set_icc_profile(srgb_profile().to_vec()).expect("a JPEG holds a profile of a few kilobytes");
        encoder
            .write_image(self.rgb, self.width as u32, self.height as u32, ExtendedColorType::Rgb8)
            .expect("memory takes a picture within the limits of a JPEG");
        if !xmp.is_empty() {
            file.splice(START..START, segment(xmp));
        }
        file
    }
}

/// The segment APP1 that holds a packet of XMP (its specification's part 3); too long a packet has none.
fn segment(xmp: &str) -> Vec<u8> {
    let length = u16::try_from(2 + XMP.len() + xmp.len());
    length.map_or_else(|_| Vec::new(), |length| [&APP1[..], &length.to_be_bytes(), XMP, xmp.as_bytes()].concat())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noise(width: usize, height: usize) -> Vec<u8> {
        (0..width * height * 3).map(|at: usize| (at.wrapping_mul(2_654_435_761) >> 13) as u8).collect()
    }

    #[test]
    fn the_best_quality_under_a_limit() {
        let rgb = noise(64, 48);
        let pixels = ScreenPixels { width: 64, height: 48, rgb: &rgb };
        let all: Vec<usize> =
            (LEAST_QUALITY..=BEST_QUALITY).map(|quality| pixels.jpeg(JpegWeight::Quality(quality), "").len()).collect();
        for most in [all[0], all[10], all[10] + 1, all[33], all[60]] {
            let file = pixels.jpeg(JpegWeight::AtMost(most as u64), "");
            let at = all.iter().position(|length| *length == file.len()).expect("it is one of them");
            assert!(file.len() <= most && all.get(at + 1).is_none_or(|next| *next > most), "{most}: {at}");
        }
        // What cannot be had is the worst that we write.
        assert_eq!(pixels.jpeg(JpegWeight::AtMost(10), "").len(), all[0]);
    }

    // JPEG (ITU-T T.81) begins with FF D8; a profile stands in APP2 segments that begin with this name (ICC.1, annex B).
    #[test]
    fn a_file_says_srgb_and_is_always_the_same() {
        let rgb = noise(8, 8);
        let file = ScreenPixels { width: 8, height: 8, rgb: &rgb }.jpeg(JpegWeight::Quality(90), "");
        assert_eq!(file[..2], [0xFF, 0xD8]);
        let at = file.windows(12).position(|bytes| bytes == b"ICC_PROFILE\0").expect("a profile");
        assert_eq!(file[at - 4..at - 2], [0xFF, 0xE2]);
        let profile = srgb_profile();
        assert_eq!(&file[at + 14..at + 14 + profile.len()], profile);
        // Its date, bytes 24 to 35 of a profile's head (ICC.1), is fixed.
        assert_eq!(profile[24..36], [0x07, 0xD0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0]);
    }

    // APP1 stands where the JPEG File Interchange Format or nothing stands: right behind FF D8. It says its own length.
    #[test]
    fn what_it_says_of_itself_counts_among_its_bytes() {
        let rgb = noise(64, 48);
        let pixels = ScreenPixels { width: 64, height: 48, rgb: &rgb };
        let file = pixels.jpeg(JpegWeight::Quality(90), "<x/>");
        assert_eq!(file[..6], [0xFF, 0xD8, 0xFF, 0xE1, 0, 35]);
        assert_eq!(&file[6..39], b"http://ns.adobe.com/xap/1.0/\0<x/>");
        let most = pixels.jpeg(JpegWeight::Quality(70), "").len();
        let weights = ["", &"x".repeat(400)].map(|xmp| pixels.jpeg(JpegWeight::AtMost(most as u64), xmp).len());
        assert!(weights[0] == most && weights[1] <= most, "{weights:?}");
    }
}
