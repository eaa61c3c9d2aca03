//! Colour table: pixels of few mixtures of ink as one number each, and what every number stands for on the plates.
//!
//! A toned picture of 8 bits has 256 mixtures at the most, so nothing is lost, and a pixel takes one byte on however many
//! plates. One of 16 bits may have more, and keeps its samples plate by plate.

use std::collections::BTreeMap;

/// An Indexed space has so many colours at the most (ISO 32000-1, 8.6.6.3).
const MOST: usize = 256;

pub struct ColourTable {
    /// Mixture by mixture, plates side by side.
    pub mixtures: Vec<u8>,
    /// A byte a pixel.
    pub pixels: Vec<u8>,
}

impl ColourTable {
    /// `None` where there are more mixtures than it holds. Those near each other stand near each other, so that rows compress
    /// well.
    pub fn of(samples: &[u8], plates: usize) -> Option<ColourTable> {
        let mut known: BTreeMap<&[u8], u8> = BTreeMap::new();
        let mut last: &[u8] = &[];
        for mixture in samples.chunks_exact(plates) {
            if mixture != last && !known.contains_key(mixture) {
                if known.len() == MOST {
                    return None;
                }
                known.insert(mixture, 0);
            }
            last = mixture;
        }
        known.values_mut().zip(0..=u8::MAX).for_each(|(number, next)| *number = next);
        let mut last: (&[u8], u8) = (&[], 0);
        let pixels = samples.chunks_exact(plates).map(|mixture| {
            if mixture != last.0 {
                last = (mixture, known.get(mixture).copied().unwrap_or_default());
            }
            last.1
        });
        let pixels = pixels.collect();
        Some(ColourTable { mixtures: known.into_keys().flatten().copied().collect(), pixels })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pixel_comes_back_and_one_mixture_too_many_is_none() {
        let samples: Vec<u8> = (0..=255_u8).rev().flat_map(|tone| [tone, tone / 2, 9]).collect();
        let table = ColourTable::of(&samples, 3).expect("256 mixtures");
        assert_eq!(table.pixels.len(), 256);
        let back = table.pixels.iter().flat_map(|at| &table.mixtures[usize::from(*at) * 3..][..3]);
        assert!(back.eq(&samples));
        assert!(ColourTable::of(&[&samples[..], &[7, 200, 9]].concat(), 3).is_none());
    }
}
