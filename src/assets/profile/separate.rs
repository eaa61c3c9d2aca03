//! Separate: the pixels of a picture turned into ink, band by band, each colour that was met lately only once.

use crate::assets::profile::pixels::{BAND, distinct};
use crate::assets::profile::turns::{Icc, Turn, compensating};
use crate::assets::profile::walk::TableWalk;
use crate::assets::{Pixels, ProfileFault, Separation, eight};
use lcms2::{PixelFormat, Pod};
use rayon::prelude::*;

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

    pub fn turn(&self, from: &[[u16; 3]], to: &mut [[u8; 4]]) {
        match self {
            RgbTurn::Walk(walk) => walk.turn(from, to),
            RgbTurn::Engine(turn) => rounded(turn, from, to),
        }
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
    let mut all = vec![To::default(); pixels.samples.len() / FROM];
    all.par_chunks_mut(BAND).enumerate().for_each(|(band, to)| {
        let start = band * BAND * FROM;
        let words = pixels.words(start..start + to.len() * FROM);
        let (colours, which) = distinct(words.as_chunks().0);
        let mut turned = vec![To::default(); colours.len()];
        turn(&colours, &mut turned);
        to.iter_mut().zip(which).for_each(|(to, which)| *to = turned[which]);
    });
    all
}
