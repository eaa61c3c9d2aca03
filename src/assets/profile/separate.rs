//! Separate: the pixels of a picture turned into ink, band by band, each colour that was met lately only once.

use crate::assets::profile::pixels::{BAND, distinct};
use crate::assets::profile::turn::{Icc, Turn, compensating};
use crate::assets::profile::walk::TableWalk;
use crate::assets::{Pixels, ProfileFault, Separation, eight};
use lcms2::{PixelFormat, Pod};
use rayon::prelude::*;
use std::ops::Range;

/// From RGB in 16 bits to inks in 8.
pub enum RgbTurn {
    Walk(Box<TableWalk>),
    Engine(Turn<[u16; 3], [u16; 4]>),
}

impl RgbTurn {
    /// `deep`: the pictures have 16 bits.
    pub fn new(
        source: &Icc,
        press: &Icc,
        bytes: &[u8],
        separation: Separation,
        deep: bool,
    ) -> Result<RgbTurn, ProfileFault> {
        match TableWalk::new(source, press, bytes, separation, deep) {
            Some(walk) => Ok(RgbTurn::Walk(Box::new(walk))),
            None => engine((source, PixelFormat::RGB_16), press, separation).map(RgbTurn::Engine),
        }
    }

    /// Of one colour.
    pub fn turn(&self, rgb: [u16; 3]) -> [u8; 4] {
        match self {
            RgbTurn::Walk(walk) => walk.turn(rgb),
            RgbTurn::Engine(turn) => {
                let mut inks = [[0; 4]];
                rounded(turn, &[rgb], &mut inks);
                inks[0]
            }
        }
    }

    pub fn separate(&self, pixels: &Pixels) -> Vec<u8> {
        let walk = match self {
            RgbTurn::Walk(walk) => walk,
            RgbTurn::Engine(turn) => return separate(pixels, |from, to| rounded(turn, from, to)),
        };
        let bytes = walk.takes_bytes() && pixels.fine.is_none();
        let inks = in_bands::<3, _>(pixels, |range, to| {
            if bytes {
                walk.turn_bytes(pixels.samples[range].as_chunks().0, to);
            } else {
                walk.turn_words(pixels.words(range).as_chunks().0, to);
            }
        });
        inks.into_flattened()
    }
}

/// The engine in its full precision.
pub fn engine<const FROM: usize>(
    source: (&Icc, PixelFormat),
    press: &Icc,
    separation: Separation,
) -> Result<Turn<[u16; FROM], [u16; 4]>, ProfileFault>
where
    [u16; FROM]: Pod,
{
    compensating(source, (press, PixelFormat::CMYK_16), separation)
}

pub fn rounded<const FROM: usize>(turn: &Turn<[u16; FROM], [u16; 4]>, from: &[[u16; FROM]], to: &mut [[u8; 4]])
where
    [u16; FROM]: Pod,
{
    let mut inks = vec![[0; 4]; from.len()];
    turn.transform_pixels(from, &mut inks);
    to.iter_mut().zip(inks).for_each(|(to, inks)| *to = inks.map(eight));
}

pub fn separate<const FROM: usize>(pixels: &Pixels, turn: impl Fn(&[[u16; FROM]], &mut [[u8; 4]]) + Sync) -> Vec<u8> {
    turned(pixels, turn).into_flattened()
}

pub fn turned<const FROM: usize, To: Copy + Default + Send>(
    pixels: &Pixels,
    turn: impl Fn(&[[u16; FROM]], &mut [To]) + Sync,
) -> Vec<To> {
    in_bands::<FROM, To>(pixels, |range, to| {
        let words = pixels.words(range);
        let (colours, which) = distinct(words.as_chunks().0);
        let mut turned = vec![To::default(); colours.len()];
        turn(&colours, &mut turned);
        to.iter_mut().zip(which).for_each(|(to, which)| *to = turned[which]);
    })
}

/// What `fill` makes of the samples of each band.
fn in_bands<const FROM: usize, To: Copy + Default + Send>(
    pixels: &Pixels,
    fill: impl Fn(Range<usize>, &mut [To]) + Sync,
) -> Vec<To> {
    let mut all = vec![To::default(); pixels.samples.len() / FROM];
    all.par_chunks_mut(BAND).enumerate().for_each(|(band, to)| {
        let start = band * BAND * FROM;
        fill(start..start + to.len() * FROM, to);
    });
    all
}
