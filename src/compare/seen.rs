//! Seen: how differently two pixels look.

use crate::assets::difference;
use std::array;

/// From here on two colours are others, CIEDE2000. A proof that is off by more, on any patch, does not stand for the print
/// (ISO 12647-7, from memory).
pub const OTHER: f64 = 5.0;
/// The same where both sides are even around a pixel: an eye sees least steps between areas. As far off as a proof may be in
/// the mean of its patches (ISO 12647-7, from memory).
pub const OTHER_AREA: f64 = 2.5;

/// Pairs of colours that are remembered, as a power of two: neighbours are often alike.
const PLACES: u32 = 14;
/// The heaviest that a step of lightness is divided by in CIEDE2000, at black and white.
const LIGHTNESS_SCALE: f64 = 1.75;
/// The white of sRGB, D65.
const WHITE: [f64; 3] = [0.950_47, 1.0, 1.088_83];
/// Red, green and blue of sRGB as X, Y and Z (IEC 61966-2-1).
const PRIMARIES: [[f64; 3]; 3] = [
    [0.412_456_4, 0.357_576_1, 0.180_437_5],
    [0.212_672_9, 0.715_152_2, 0.072_175],
    [0.019_333_9, 0.119_192, 0.950_304_1],
];

/// Finds differences, and remembers those met lately, each at the one place where it may stand.
pub struct PixelEye {
    light: [f64; 256],
    known: Vec<([u8; 6], f64)>,
}

impl PixelEye {
    pub fn new() -> PixelEye {
        // Equal colours, which a new place names, do not differ.
        PixelEye { light: array::from_fn(|level| light(level as f64 / 255.0)), known: vec![([0; 6], 0.0); 1 << PLACES] }
    }

    /// CIEDE2000; of colours that lie far apart, at least [`OTHER`].
    pub fn difference(&mut self, one: [u8; 3], other: [u8; 3]) -> f64 {
        if one == other {
            return 0.0;
        }
        let ([a, b, c], [d, e, f]) = (one, other);
        let number = u64::from_be_bytes([1, 0, a, b, c, d, e, f]);
        let place = (number.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> (64 - PLACES)) as usize;
        let pair = [a, b, c, d, e, f];
        if let Some((_, off)) = self.known.get(place).filter(|(known, _)| *known == pair) {
            return *off;
        }
        let lightness = [one, other].map(|colour| self.curved(colour, 1));
        let step = (116.0 * (lightness[0] - lightness[1])).abs() / LIGHTNESS_SCALE;
        let off = if step > OTHER { step } else { difference(self.lab(one), self.lab(other)) };
        if let Some(place) = self.known.get_mut(place) {
            *place = (pair, off);
        }
        off
    }

    /// CIELAB, for D65.
    fn lab(&self, colour: [u8; 3]) -> [f64; 3] {
        let [x, y, z] = [0, 1, 2].map(|axis| self.curved(colour, axis));
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    /// X, Y or Z, as CIELAB bends them.
    fn curved(&self, colour: [u8; 3], axis: usize) -> f64 {
        let lights = PRIMARIES[axis].iter().zip(colour).map(|(share, level)| share * self.light[usize::from(level)]);
        let value = lights.sum::<f64>() / WHITE[axis];
        if value > (6.0_f64 / 29.0).powi(3) {
            value.cbrt()
        } else {
            value * (29.0_f64 / 6.0).powi(2) / 3.0 + 4.0 / 29.0
        }
    }
}

/// The light of a level of sRGB (IEC 61966-2-1).
fn light(level: f64) -> f64 {
    if level <= 0.040_45 { level / 12.92 } else { ((level + 0.055) / 1.055).powf(2.4) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// CIELAB of sRGB as OpenCV 5.0 turns it, for D65, by tables.
    #[test]
    fn colours_are_those_of_another_program() {
        let eye = PixelEye::new();
        let all = [
            ([0, 32, 64], [11.914, 3.1406, -23.516]),
            ([255, 0, 0], [53.241, 80.094, 67.203]),
            ([12, 200, 90], [70.862, -64.75, 43.109]),
            ([128, 128, 128], [53.583, 0.0, 0.0]),
            ([3, 5, 7], [1.288, -0.234, -0.938]),
        ];
        for (rgb, wanted) in all {
            let found = eye.lab(rgb);
            assert!(found.iter().zip(wanted).all(|(found, wanted)| (found - wanted).abs() < 0.1), "{rgb:?}: {found:?}");
        }
    }

    #[test]
    fn what_is_remembered_is_what_was_found_and_what_lies_far_apart_is_other() {
        let mut eye = PixelEye::new();
        let colours: Vec<[u8; 3]> = (0..40_u8).map(|at| [at * 6, 255 - at * 3, at.wrapping_mul(37)]).collect();
        for one in &colours {
            for other in &colours {
                let (found, again) = (eye.difference(*one, *other), eye.difference(*one, *other));
                let exact = difference(eye.lab(*one), eye.lab(*other));
                assert_eq!(found.to_bits(), again.to_bits());
                assert!(
                    (found - exact).abs() < 1e-9 || found.min(exact) > OTHER,
                    "{one:?} {other:?}: {found}, {exact}"
                );
            }
        }
    }
}
