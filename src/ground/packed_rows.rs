//! Packed rows: the samples of a picture on their way into one zlib stream, band by band.

use crate::ground::Adler;
use crate::ground::deflate::{BAND, HEAD, blocks, stream_end};
use crate::ground::entropy::entropy_blocks;
use crate::ground::rows::{as_is, filtered, predicted};
use crate::ground::ways::{PATIENT, press_bands};
use rayon::prelude::*;

/// Bands of rows that are coded together, side by side.
const BANDS: usize = 8;
/// The highest level of zlib.
const HARDEST: u32 = 9;

/// How hard rows are compressed. Nothing is lost either way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Packing {
    #[default]
    Quick,
    /// Several ways are tried in full, and the shortest is taken.
    Small,
}

impl Packing {
    pub const WORDS: [(&'static str, Packing); 2] = [("quick", Packing::Quick), ("small", Packing::Small)];
}

/// Rows of samples on their way into one zlib stream, each behind the number of its filter, as PNG has them and PDF by its
/// `Predictor` 10 and more.
pub struct PackedRows {
    row: usize,
    pixel: usize,
    packing: Packing,
    stream: Vec<u8>,
    sum: Adler,
    /// Less than is coded together.
    waiting: Vec<u8>,
}

impl PackedRows {
    /// `rows` of `row` bytes each; `pixel` is those of a pixel.
    pub fn new(rows: usize, row: usize, pixel: usize, packing: Packing) -> PackedRows {
        // Room enough: a stream that outgrows its room is copied, and lies in memory twice. What it leaves is never touched.
        let all = rows * (row + 1);
        let mut stream = Vec::with_capacity(all + all / 1000 + (1 << 10));
        stream.extend(HEAD);
        PackedRows { row: row.max(1), pixel, packing, stream, sum: Adler::default(), waiting: Vec::new() }
    }

    /// Rows that are best added at a time: enough for every thread, and few against a large picture.
    pub fn at_a_time(&self) -> usize {
        BANDS * self.band() / self.row
    }

    fn band(&self) -> usize {
        self.row * (BAND / self.row).max(1)
    }

    /// The next rows, or part of them. However they come, the same bands are coded together.
    pub fn add(&mut self, samples: &[u8]) {
        let together = BANDS * self.band();
        let mut rest = samples;
        if !self.waiting.is_empty() {
            let (first, more) = rest.split_at(rest.len().min(together - self.waiting.len()));
            self.waiting.extend_from_slice(first);
            rest = more;
            if self.waiting.len() < together {
                return;
            }
            let full = std::mem::take(&mut self.waiting);
            self.pack(&full);
        }
        let (whole, left) = rest.split_at(rest.len() / together * together);
        whole.chunks(together).for_each(|part| self.pack(part));
        self.waiting = left.to_vec();
    }

    fn pack(&mut self, samples: &[u8]) {
        let band = self.band();
        let quick = press_bands(samples, band, self.row, self.pixel);
        let coded = match self.packing {
            Packing::Quick => quick,
            Packing::Small => {
                let bands = quick.into_par_iter().zip(samples.par_chunks(band));
                bands.map(|(quick, band)| smallest_rows(quick, band.chunks(self.row), self.pixel)).collect()
            }
        };
        for (coded, sum) in coded {
            self.stream.extend_from_slice(&coded);
            self.sum = self.sum.then(sum);
        }
    }

    pub fn finish(mut self) -> Vec<u8> {
        let last = std::mem::take(&mut self.waiting);
        self.pack(&last);
        self.stream.extend(stream_end(self.sum));
        self.stream.shrink_to_fit();
        self.stream
    }
}

/// The shortest of several ways, the quick one among them.
fn smallest_rows<'a>(
    quick: (Vec<u8>, Adler),
    rows: impl Iterator<Item = &'a [u8]> + Clone,
    pixel: usize,
) -> (Vec<u8>, Adler) {
    let bent = [predicted(rows.clone(), pixel), filtered(rows.clone(), pixel), as_is(rows)];
    let coded = |rows: &[u8]| [entropy_blocks(rows), blocks(rows, PATIENT), blocks(rows, HARDEST)];
    let ways = bent.iter().flat_map(|rows| coded(rows).map(|coded| (coded, rows)));
    let shortest = ways.min_by_key(|(coded, _)| coded.len());
    // A harder search may find less.
    let shorter = shortest.filter(|(coded, _)| coded.len() < quick.0.len());
    shorter.map_or(quick, |(coded, rows)| (coded, Adler::of(rows)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::block::trial::noise;
    use crate::ground::inflated;

    #[test]
    fn rows_come_back_whether_they_come_at_once_or_in_parts_and_small_is_never_larger() {
        let wave = |at: usize| ((at as f64 / 97.0).sin() * 90.0 + (at % 1200) as f64 / 9.0) as u8;
        for (samples, row) in
            [((0..5 << 20).map(wave).collect::<Vec<u8>>(), 1200), (vec![7; 3 << 20], 1200), (mixed(), 4096)]
        {
            let packed = |packing, part: usize| {
                let mut rows = PackedRows::new(samples.len() / row, row, 4, packing);
                samples.chunks(part).for_each(|part| rows.add(part));
                rows.finish()
            };
            let (quick, small) = (packed(Packing::Quick, 9 << 20), packed(Packing::Small, 1 << 20));
            assert!(quick == packed(Packing::Quick, 777_777) && small.len() <= quick.len());
            for stream in [quick, small] {
                let back = inflated(&stream);
                let mut plain = vec![0; row];
                for (coded, wanted) in back.chunks(row + 1).zip(samples.chunks(row)) {
                    plain = unfiltered(coded, &plain, 4);
                    assert!(plain == wanted);
                }
                assert_eq!(back.len(), samples.len().div_ceil(row) + samples.len());
            }
        }
    }

    /// Ten bands, of which every other one is a smooth ramp, and the rest noise, an eighth of which comes again. By itself such a
    /// band is searched; beside ramps, which are best without, it is not worth it. So the bytes tell which came together.
    fn mixed() -> Vec<u8> {
        let mut seed = 3;
        let mut high = || noise(&mut seed) >> 16;
        let mut mixed: Vec<u8> = Vec::new();
        while mixed.len() < 10 << 20 {
            let at = mixed.len();
            if !(at / BAND).is_multiple_of(2) {
                mixed.extend((at..at + 64).map(|at| ((at / 512) as u8).wrapping_add(high() as u8 % 4)));
            } else if at > 8192 && high().is_multiple_of(8) {
                mixed.extend_from_within(at - 8192..at - 8128);
            } else {
                mixed.extend((0..64).map(|_| high() as u8));
            }
        }
        mixed
    }

    /// PNG, section 9: what the filters mean.
    fn unfiltered(coded: &[u8], above: &[u8], pixel: usize) -> Vec<u8> {
        let mut row: Vec<u8> = Vec::new();
        for (at, byte) in coded[1..].iter().enumerate() {
            let left = if at < pixel { 0 } else { row[at - pixel] };
            let corner = if at < pixel { 0 } else { above[at - pixel] };
            let plane = i16::from(left) + i16::from(above[at]) - i16::from(corner);
            let nearest = [left, above[at], corner].into_iter().min_by_key(|own| plane.abs_diff(i16::from(*own)));
            let guess = match coded[0] {
                1 => left,
                2 => above[at],
                3 => u8::midpoint(left, above[at]),
                4 => nearest.unwrap_or_default(),
                _ => 0,
            };
            row.push(byte.wrapping_add(guess));
        }
        row
    }
}
