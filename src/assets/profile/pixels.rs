//! Pixels turned from one colour space to another, band by band, each colour that was met lately only once.

use crate::assets::profile::turns::Turn;
use lcms2::Pod;
use rayon::prelude::*;

/// Pixels a thread converts at a time.
pub const BAND: usize = 1 << 16;

pub fn turn_all<const FROM: usize, const TO: usize>(turn: &Turn<[u8; FROM], [u8; TO]>, samples: &[u8]) -> Vec<u8>
where
    [u8; FROM]: Pod,
    [u8; TO]: Pod,
{
    let pixels = samples.as_chunks::<FROM>().0;
    let mut turned = vec![0; pixels.len() * TO];
    pixels
        .par_chunks(BAND)
        .zip(turned.as_chunks_mut::<TO>().0.par_chunks_mut(BAND))
        .for_each(|(from, to)| turn_band(turn, from, to));
    turned
}

/// Colours of a band that are remembered; those near each other are often the same.
const REMEMBERED: usize = 1 << 12;

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

/// The colours of a band, and which of them each pixel has. One that was forgotten stands there again.
pub fn distinct<S: Copy + PartialEq + Into<u64>, const FROM: usize>(
    from: &[[S; FROM]],
) -> (Vec<[S; FROM]>, Vec<usize>) {
    let mut colours: Vec<[S; FROM]> = Vec::new();
    let mut known = vec![usize::MAX; REMEMBERED];
    let which = from.iter().map(|colour| {
        let number = colour.iter().fold(0_u64, |all, sample| all << 16 | (*sample).into());
        // The upper bits of the product depend on all of the number (Knuth, The Art of Computer Programming, 6.4).
        let place = &mut known[(number.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> (64 - REMEMBERED.ilog2())) as usize];
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
    use crate::assets::profile::turns::Turns;

    #[test]
    fn a_flat_picture_is_one_colour_and_a_noisy_one_is_all_of_its_own() {
        let flat: Vec<[u8; 3]> = (0..50_000).map(|_| [9, 8, 7]).collect();
        assert_eq!(distinct(&flat).0.len(), 1);
        let two: Vec<[u8; 3]> = (0..50_000).map(|at| [(at % 2) as u8, 0, 0]).collect();
        assert_eq!(distinct(&two).0.len(), 2);
        let noise: Vec<[u8; 3]> = (0..50_000_u32).map(|at| [at as u8, (at >> 8) as u8, (at * 7) as u8]).collect();
        assert_eq!(distinct(&noise).0.len(), 50_000);
    }

    /// The engine alone gives the same, pixel by pixel; colours come back after they were forgotten.
    #[test]
    fn every_pixel_is_what_the_engine_makes_of_it() {
        let turns = Turns::default();
        let turn = turns.to_screen(COATED);
        let colour = |at: u32| (at % 9000).wrapping_mul(2_654_435_761).to_be_bytes();
        let pixels: Vec<[u8; 4]> = (0..200_000).map(|at| colour(at / 3)).collect();
        let mut plain = vec![[0; 3]; pixels.len()];
        turn.transform_pixels(&pixels, &mut plain);
        assert_eq!(turn_all(turn, pixels.as_flattened()), plain.as_flattened());
    }
}
