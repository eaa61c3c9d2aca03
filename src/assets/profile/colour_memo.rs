//! Colour memos: what was made of the colours met lately. Those near each other are often the same, and so are those of two
//! covers.

use std::sync::{Mutex, PoisonError};

/// A colour as a number of its own, also beside colours of other bits that one turn takes.
pub trait ColourNumber: Copy {
    fn number(self) -> u64;
}

impl ColourNumber for [u8; 3] {
    fn number(self) -> u64 {
        let [r, g, b] = self;
        u32::from_be_bytes([0, r, g, b]).into()
    }
}

impl ColourNumber for [u8; 4] {
    fn number(self) -> u64 {
        u32::from_be_bytes(self).into()
    }
}

impl ColourNumber for [u16; 3] {
    fn number(self) -> u64 {
        self.into_iter().fold(1, |all, word| all << 16 | u64::from(word))
    }
}

/// Places for colours, as a power of two. Of the pixels of the first example's picture 4 % are turned with so many places,
/// 11 % with an eighth of them, in twice the time; more gain little and leave the processor's own memory.
const PLACES: u32 = 16;

/// Turned colours, each at the one place where it may stand.
struct ColourMemo<const TO: usize>(Box<[(u64, [u8; TO])]>);

impl<const TO: usize> ColourMemo<TO> {
    fn new() -> ColourMemo<TO> {
        let mut places = vec![(0, [0; TO]); 1 << PLACES];
        // Number 0 looks here and nowhere else, and finds another; no other number takes an empty place for its own.
        places[place(0)].0 = u64::MAX;
        ColourMemo(places.into())
    }
}

/// The upper bits of the product depend on all of the number (Knuth, The Art of Computer Programming, 6.4).
fn place(number: u64) -> usize {
    (number.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> (64 - PLACES)) as usize
}

/// The memos of one turn: as many as threads use it at a time.
pub struct ColourMemos<const TO: usize>(Mutex<Vec<ColourMemo<TO>>>);

impl<const TO: usize> Default for ColourMemos<TO> {
    fn default() -> ColourMemos<TO> {
        ColourMemos(Mutex::default())
    }
}

impl<const TO: usize> ColourMemos<TO> {
    /// Converts pixels, each colour that was met lately only once. `turn` makes the same of a colour each time.
    pub fn each_once<C: ColourNumber>(&self, from: &[C], to: &mut [[u8; TO]], turn: impl Fn(C) -> [u8; TO]) {
        let spare = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let taken = spare().pop();
        let mut memo = taken.unwrap_or_else(ColourMemo::new);
        for (colour, to) in from.iter().zip(to) {
            let number = colour.number();
            let known = &mut memo.0[place(number)];
            if known.0 != number {
                *known = (number, turn(*colour));
            }
            *to = known.1;
        }
        spare().push(memo);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rayon::prelude::*;

    /// Each by itself gives the same, on two threads and one after the other. The colours whose numbers stand in empty places
    /// come first and last.
    #[test]
    fn every_pixel_is_what_comes_of_it_alone() {
        let turn = |[a, b, c, d]: [u8; 4]| [a ^ 7, b.wrapping_add(c), d.wrapping_mul(3)];
        let colour = |at: u32| (at % 90_000).wrapping_mul(2_654_435_761).to_be_bytes();
        let ends = [[0; 4], [255; 4]];
        let pixels = [&ends[..], &(0..400_000).map(|at| colour(at / 3)).collect::<Vec<_>>(), &ends].concat();
        let memos = ColourMemos::default();
        for _ in 0..2 {
            let mut turned = vec![[0; 3]; pixels.len()];
            pixels.par_chunks(5000).zip(turned.par_chunks_mut(5000)).for_each(|(from, to)| {
                memos.each_once(from, to, turn);
            });
            assert!(pixels.iter().zip(&turned).all(|(from, to)| turn(*from) == *to));
        }
    }

    #[test]
    fn colours_have_numbers_of_their_own() {
        assert_eq!([1_u16, 2, 3].number(), 0x1_0001_0002_0003);
        assert_ne!([0_u16, 0, 0xFFFF].number(), [0_u8, 0xFF, 0xFF].number());
        assert_eq!([1_u8, 2, 3].number(), 0x01_0203);
        assert_eq!([1_u8, 2, 3, 4].number(), 0x0102_0304);
    }
}
