//! Pixels turned from one colour space to another, band by band, each colour that was met lately only once.

use crate::assets::profile::turn::Turn;
use crate::assets::profile::turns::ScreenTurn;
use lcms2::Pod;
use rayon::prelude::*;

/// Pixels a thread converts at a time.
pub const BAND: usize = 1 << 16;

/// Inks to sRGB.
pub fn turn_all(turn: &ScreenTurn, samples: &[u8]) -> Vec<u8> {
    let pixels = samples.as_chunks::<4>().0;
    let mut turned = vec![0; pixels.len() * 3];
    let bands = pixels.par_chunks(BAND).zip(turned.as_chunks_mut::<3>().0.par_chunks_mut(BAND));
    bands.for_each(|(from, to)| match turn {
        ScreenTurn::Walk(walk) => walk.turn_pixels(from, to),
        ScreenTurn::Engine(turn) => turn_band(turn, from, to),
    });
    turned
}

/// Colours of a band that are remembered, at the least and at the most: one for so many pixels. Those near each other are
/// often the same.
const REMEMBERED: (usize, usize) = (1 << 6, 1 << 14);
const PIXELS: usize = 4;

/// Converts the pixels of a band, each colour that was met lately once.
fn turn_band<const FROM: usize, const TO: usize>(
    turn: &Turn<[u8; FROM], [u8; TO]>,
    from: &[[u8; FROM]],
    to: &mut [[u8; TO]],
) where
    [u8; FROM]: Pod,
    [u8; TO]: Pod,
{
    let (colours, which) = distinct(from);
    let mut turned = vec![[0; TO]; colours.len()];
    turn.transform_pixels(&colours, &mut turned);
    to.iter_mut().zip(which).for_each(|(to, which)| *to = turned[which]);
}

fn number<S: Copy + Into<u64>, const FROM: usize>(colour: &[S; FROM]) -> u64 {
    colour.iter().fold(0, |all, sample| all << 16 | (*sample).into())
}

/// Room for colours, by the bits that tell their places.
#[derive(Clone, Copy)]
struct Remembered(u32);

impl Remembered {
    fn of(pixels: usize) -> Remembered {
        Remembered((pixels / PIXELS).clamp(REMEMBERED.0, REMEMBERED.1).next_power_of_two().ilog2())
    }

    fn places(self) -> usize {
        1 << self.0
    }

    /// Where a colour is remembered. The upper bits of the product depend on all of the number (Knuth, The Art of Computer
    /// Programming, 6.4).
    fn place(self, number: u64) -> usize {
        (number.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> (64 - self.0)) as usize
    }
}

/// The colours of a band, and which of them each pixel has. One that was forgotten stands there again.
pub fn distinct<S: Copy + PartialEq + Into<u64>, const FROM: usize>(
    from: &[[S; FROM]],
) -> (Vec<[S; FROM]>, Vec<usize>) {
    let mut colours: Vec<[S; FROM]> = Vec::new();
    let room = Remembered::of(from.len());
    let mut known = vec![usize::MAX; room.places()];
    let which = from.iter().map(|colour| {
        let place = &mut known[room.place(number(colour))];
        if colours.get(*place) != Some(colour) {
            *place = colours.len();
            colours.push(*colour);
        }
        *place
    });
    let which = which.collect();
    (colours, which)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::profile::COATED;
    use crate::assets::profile::turn::{opened, relative, srgb};
    use crate::assets::profile::turns::Turns;
    use lcms2::PixelFormat;

    #[test]
    fn a_flat_picture_is_one_colour_and_a_noisy_one_is_all_of_its_own() {
        let flat: Vec<[u8; 3]> = (0..50_000).map(|_| [9, 8, 7]).collect();
        assert_eq!(distinct(&flat).0.len(), 1);
        let two: Vec<[u8; 3]> = (0..50_000).map(|at| [(at % 2) as u8, 0, 0]).collect();
        assert_eq!(distinct(&two).0.len(), 2);
        let noise: Vec<[u8; 3]> = (0..50_000_u32).map(|at| [at as u8, (at >> 8) as u8, (at * 7) as u8]).collect();
        assert_eq!(distinct(&noise).0.len(), 50_000);
    }

    /// Each by itself gives the same, pixel by pixel; colours come back after they were forgotten.
    #[test]
    fn every_pixel_is_what_comes_of_it_alone() {
        let colour = |at: u32| (at % 9000).wrapping_mul(2_654_435_761).to_be_bytes();
        let pixels: Vec<[u8; 4]> = (0..200_000).map(|at| colour(at / 3)).chain([[255; 4]]).collect();
        let turns = Turns::default();
        let ScreenTurn::Walk(walk) = turns.to_screen(COATED) else { panic!("the bundled profiles are walked") };
        let plain: Vec<[u8; 3]> = pixels.iter().map(|inks| walk.turn(*inks)).collect();
        assert_eq!(turn_all(turns.to_screen(COATED), pixels.as_flattened()), plain.as_flattened());
        let (press, srgb) = (opened(COATED).expect("it is bundled"), srgb());
        let engine = relative((&press, PixelFormat::CMYK_8), (&srgb, PixelFormat::RGB_8)).expect("it is bundled");
        let mut plain = vec![[0; 3]; pixels.len()];
        engine.transform_pixels(&pixels, &mut plain);
        assert_eq!(turn_all(&ScreenTurn::Engine(engine), pixels.as_flattened()), plain.as_flattened());
    }
}
