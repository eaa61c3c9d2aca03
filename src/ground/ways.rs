//! Ways to code the rows of a press file, which is sent and kept, and the choice among them: quick, and hardly longer than what
//! the usual coder leaves when it takes its time.
//!
//! A trial on a part of each band says about what every way leaves. A Huffman code alone is ten times as fast as a search, so it
//! is taken wherever bands that are coded together stay near the shortest of the usual ways; those that lose most by it are searched.

use crate::ground::Adler;
use crate::ground::deflate::{HURRIED, alone, blocks, is_better_alone, middle, searched};
use crate::ground::entropy::entropy_blocks;
use crate::ground::rows::{as_is, filtered, predicted};
use rayon::prelude::*;

/// Level of zlib for rows as they are: grain, weave and hatching repeat byte by byte, and filters hide it. Measured on 15 MB of
/// art with grain: 3 leaves 4.2 MB in 0.11 s, 4 leaves 3.9 in 0.16 s, 5 leaves 3.9 in 0.19 s, 6 leaves 3.8 in 0.29 s.
pub const PATIENT: u32 = 4;
/// How hard rows are searched that repeat much: flat art and even ramps lose up to a fifth of their bytes by it.
const REPEATING: u32 = 6;
/// Rows repeat much that are so many times as long as what a search leaves of them.
const REPEATS: usize = 4;
/// Under this share of what a search among filtered rows leaves, in percent, a Huffman code alone is best: photographs.
const CLEAR: usize = 93;
/// A trial on few rows sees less of what repeats than there is. Measured on art with grain and on paintings: of what it leaves, in
/// percent, zlib at level 6 leaves 88 to 93 in the end.
const SEEN: usize = 90;
/// How much of the shortest of the usual ways all bands may take together, in percent.
const MOST: usize = 105;
/// Bands that leave less than this share by a search, in percent of a Huffman code alone, are searched in any case.
const WORTH: usize = 80;
/// Where a search among filtered rows leaves least, one among rows as they are takes hardly longer.
const AS_GOOD: usize = 105;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum RowCoder {
    Alone,
    Filtered,
    AsIs,
    /// A trial is too short for what repeats from afar, and filters hide some of it: all are tried in full.
    Shortest,
}

/// Bytes that a part of a band leaves, way by way.
#[derive(Clone, Copy, Debug)]
struct CodedTrial {
    alone: usize,
    filtered: usize,
    /// `None` where it cannot be the shortest.
    as_is: Option<usize>,
    repeats: bool,
}

/// Bands of `band` bytes of rows, side by side; `pixel` is the bytes of one. Each becomes blocks of a stream that do not look back
/// and end on a whole byte, and has the checksum of what is in them.
pub fn press_bands(samples: &[u8], band: usize, row: usize, pixel: usize) -> Vec<(Vec<u8>, Adler)> {
    let bands: Vec<&[u8]> = samples.chunks(band.max(1)).collect();
    let trials: Vec<CodedTrial> = bands.par_iter().map(|band| CodedTrial::of(band.chunks(row), pixel)).collect();
    let ways = chosen(&trials);
    bands.par_iter().zip(ways).map(|(band, way)| coded(band.chunks(row), pixel, way)).collect()
}

impl CodedTrial {
    fn of<'a>(rows: impl Iterator<Item = &'a [u8]> + Clone, pixel: usize) -> CodedTrial {
        let rows = middle(rows);
        let bent = filtered(rows.clone(), pixel);
        let alone = entropy_blocks(&predicted(rows.clone(), pixel)).len();
        let filtered = blocks(&bent, HURRIED).len();
        let repeats = filtered * REPEATS < bent.len();
        let is_clear = alone * 100 < filtered * CLEAR;
        let as_is = (!repeats && !is_clear).then(|| blocks(&as_is(rows), PATIENT).len());
        CodedTrial { alone, filtered, as_is, repeats }
    }

    /// What is best for this band by itself.
    fn way(&self) -> RowCoder {
        let as_is = self.as_is.unwrap_or(usize::MAX / 100);
        if self.repeats {
            RowCoder::Shortest
        } else if as_is * 100 < self.alone * WORTH {
            RowCoder::AsIs
        } else if is_better_alone(self.alone, self.filtered) {
            RowCoder::Alone
        } else if as_is * 100 < self.filtered * AS_GOOD {
            RowCoder::AsIs
        } else {
            RowCoder::Filtered
        }
    }

    /// About what a search among rows as they are leaves.
    fn found(&self) -> Option<usize> {
        self.as_is.map(|as_is| as_is * SEEN / 100)
    }

    fn length(&self, way: RowCoder) -> usize {
        match way {
            RowCoder::Alone => self.alone,
            RowCoder::Filtered | RowCoder::Shortest => self.filtered,
            RowCoder::AsIs => self.found().unwrap_or(self.filtered),
        }
    }
}

/// A way for each band: its own best, and a search where all together would be too long without.
fn chosen(trials: &[CodedTrial]) -> Vec<RowCoder> {
    let mut ways: Vec<RowCoder> = trials.iter().map(CodedTrial::way).collect();
    let filtered: usize = trials.iter().map(|trial| trial.filtered).sum();
    let as_is: usize = trials.iter().map(|trial| trial.found().unwrap_or(trial.filtered)).sum();
    let most = filtered.min(as_is) * MOST / 100;
    let mut length: usize = trials.iter().zip(&ways).map(|(trial, way)| trial.length(*way)).sum();
    while length > most {
        let gains = trials.iter().zip(&ways).map(|(trial, way)| match (*way, trial.found()) {
            (RowCoder::Alone | RowCoder::Filtered, Some(found)) => trial.length(*way).saturating_sub(found),
            _ => 0,
        });
        let Some((at, gain)) = gains.enumerate().max_by_key(|(_, gain)| *gain).filter(|(_, gain)| *gain > 0) else {
            break;
        };
        ways[at] = RowCoder::AsIs;
        length -= gain;
    }
    ways
}

fn coded<'a>(rows: impl Iterator<Item = &'a [u8]> + Clone, pixel: usize, way: RowCoder) -> (Vec<u8>, Adler) {
    match way {
        RowCoder::Alone => alone(rows, pixel),
        RowCoder::Filtered => searched(&filtered(rows, pixel), HURRIED),
        RowCoder::AsIs => searched(&as_is(rows), PATIENT),
        RowCoder::Shortest => {
            let ways = [
                alone(rows.clone(), pixel),
                searched(&filtered(rows.clone(), pixel), REPEATING),
                searched(&as_is(rows), REPEATING),
            ];
            ways.into_iter().min_by_key(|(coded, _)| coded.len()).unwrap_or_default()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn trial(alone: usize, filtered: usize, as_is: usize) -> CodedTrial {
        CodedTrial { alone, filtered, as_is: Some(as_is), repeats: false }
    }

    /// Numbers as trials on the first example's art gave them: by themselves, most bands are best without a search.
    #[test]
    fn bands_that_lose_most_are_searched_until_all_together_are_short_enough() {
        let bands =
            [(254, 258, 214), (258, 257, 217), (271, 275, 249), (301, 321, 325)].map(|(a, f, s)| trial(a, f, s));
        assert_eq!(chosen(&bands), [RowCoder::AsIs, RowCoder::AsIs, RowCoder::AsIs, RowCoder::Alone]);
        // Where a search gains nothing on the whole, there is none.
        let photograph = [(254, 258, 284), (258, 257, 290), (271, 275, 310)].map(|(a, f, s)| trial(a, f, s));
        assert_eq!(chosen(&photograph), [RowCoder::Alone; 3]);
        // A gain that is large enough is taken, whatever the others do.
        let mixed = [(254, 258, 190), (301, 290, 390), (301, 290, 390)].map(|(a, f, s)| trial(a, f, s));
        assert_eq!(chosen(&mixed), [RowCoder::AsIs, RowCoder::Alone, RowCoder::Alone]);
        // Filters that gain much, and rows as they are that gain as much in the same time.
        assert_eq!(chosen(&[trial(300, 250, 260), trial(300, 250, 270)]), [RowCoder::AsIs, RowCoder::Filtered]);
    }
}
