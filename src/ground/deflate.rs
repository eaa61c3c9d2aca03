//! Deflate (RFC 1950, RFC 1951): small things at once, large ones in bands side by side. The one door to the compressor.
//!
//! Bands end on whole bytes, so that one after the other they make one stream: the same bytes for any number of threads.

use crate::ground::Adler;
use crate::ground::entropy::entropy_blocks;
use crate::ground::rows::{as_is, filtered, predicted};
use flate2::read::ZlibDecoder;
use flate2::{Compress, Compression, Crc, FlushCompress};
use rayon::prelude::*;
use std::borrow::Cow;
use std::io::Read as _;

/// Bytes that one thread compresses at a time. Part of the format: another size gives other bytes.
const BAND: usize = 1 << 20;
/// Measured on two CMYK pictures of 19 and 37 MB: level 1 leaves 44 % in 0.26 s, 2 leaves 36 % in 0.40 s, 3 leaves
/// 33 % in 0.64 s, 6 no less in 1.7 s; predictors gain 3 % at level 1 and lose from 2 on.
const HURRIED: u32 = 2;
/// Rows on which coders are tried, at the least.
const TRIED: usize = 4;
/// A zlib stream begins: deflate, a window of 32 KiB, quick.
const HEAD: [u8; 2] = [0x78, 0x01];
/// A last block with nothing in it.
const LAST: [u8; 2] = [0x03, 0x00];

/// A zlib stream of something small.
pub fn deflate(bytes: &[u8]) -> Vec<u8> {
    zlib(bytes, Compression::default(), bytes.len().max(1))
}

/// A zlib stream of something large, made quickly.
pub fn deflate_fast(bytes: &[u8]) -> Vec<u8> {
    zlib(bytes, Compression::new(HURRIED), BAND)
}

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
    bands: Vec<(Vec<u8>, Adler)>,
    /// Less than a band.
    waiting: Vec<u8>,
}

impl PackedRows {
    /// `row` is the bytes of a row, `pixel` those of a pixel.
    pub fn new(row: usize, pixel: usize, packing: Packing) -> PackedRows {
        PackedRows { row: row.max(1), pixel, packing, bands: Vec::new(), waiting: Vec::new() }
    }

    /// The next rows, or part of them.
    pub fn add(&mut self, samples: &[u8]) {
        let band = self.row * (BAND / self.row).max(1);
        let waiting = std::mem::take(&mut self.waiting);
        let samples =
            if waiting.is_empty() { Cow::Borrowed(samples) } else { Cow::Owned([&waiting, samples].concat()) };
        let (whole, rest) = samples.split_at(samples.len() / band * band);
        self.pack(whole, band);
        self.waiting = rest.to_vec();
    }

    fn pack(&mut self, samples: &[u8], band: usize) {
        let coded = samples.par_chunks(band).map(|band| {
            let rows = band.chunks(self.row);
            match self.packing {
                Packing::Quick => coded_rows(rows, self.pixel),
                Packing::Small => smallest_rows(rows, self.pixel),
            }
        });
        self.bands.extend(coded.collect::<Vec<_>>());
    }

    pub fn finish(mut self) -> Vec<u8> {
        let last = std::mem::take(&mut self.waiting);
        self.pack(&last, last.len().max(1));
        joined(self.bands)
    }
}

/// The shortest of several ways.
fn smallest_rows<'a>(rows: impl Iterator<Item = &'a [u8]> + Clone, pixel: usize) -> (Vec<u8>, Adler) {
    let search = |bytes: &[u8]| compress(bytes, Compression::best(), FlushCompress::Full);
    let [straight, bent, plain] = [predicted(rows.clone(), pixel), filtered(rows.clone(), pixel), as_is(rows)];
    let ways = [
        (entropy_blocks(&straight), &straight),
        (search(&straight), &straight),
        (search(&bent), &bent),
        (search(&plain), &plain),
    ];
    let shortest = ways.into_iter().min_by_key(|(coded, _)| coded.len());
    shortest.map(|(coded, rows)| (coded, Adler::of(rows))).unwrap_or_default()
}

/// Rows as blocks of a stream that do not look back and end on a whole byte, and the checksum of what is in them. Rows that
/// hardly repeat are predicted and have a Huffman code alone; others are searched for repeats. A trial on a part of them
/// decides: measured on five pictures of the first example, the choices cost 0.3 % over the better one for each strip.
pub fn coded_rows<'a>(rows: impl Iterator<Item = &'a [u8]> + Clone, pixel: usize) -> (Vec<u8>, Adler) {
    let count = rows.clone().count();
    let tried = (count / 16).max(TRIED);
    let middle = rows.clone().skip(count.saturating_sub(tried) / 2).take(tried);
    let alone = entropy_blocks(&predicted(middle.clone(), pixel)).len() < blocks(&filtered(middle, pixel)).len();
    let filtered = if alone { predicted(rows, pixel) } else { filtered(rows, pixel) };
    let coded = if alone { entropy_blocks(&filtered) } else { blocks(&filtered) };
    (coded, Adler::of(&filtered))
}

fn blocks(bytes: &[u8]) -> Vec<u8> {
    compress(bytes, Compression::new(HURRIED), FlushCompress::Full)
}

/// What a zlib stream made of such blocks begins with.
pub fn stream_head() -> &'static [u8] {
    &HEAD
}

/// And what it ends with, by the checksum of all that was compressed.
pub fn stream_end(sum: Adler) -> [u8; 6] {
    let [a, b, c, d] = sum.value().to_be_bytes();
    [LAST[0], LAST[1], a, b, c, d]
}

/// The checksum of PNG chunks (ISO 3309, CRC-32).
pub fn crc(bytes: &[u8]) -> u32 {
    let mut crc = Crc::new();
    crc.update(bytes);
    crc.sum()
}

fn zlib(bytes: &[u8], level: Compression, band: usize) -> Vec<u8> {
    let bands = bytes.par_chunks(band).map(|band| (compress(band, level, FlushCompress::Sync), Adler::of(band)));
    joined(bands.collect::<Vec<_>>())
}

fn joined(bands: Vec<(Vec<u8>, Adler)>) -> Vec<u8> {
    let mut stream = Vec::with_capacity(bands.iter().map(|(band, _)| band.len()).sum::<usize>() + 8);
    stream.extend(HEAD);
    let mut sum = Adler::default();
    for (band, own) in bands {
        stream.extend_from_slice(&band);
        sum = sum.then(own);
    }
    stream.extend(stream_end(sum));
    stream
}

fn compress(bytes: &[u8], level: Compression, flush: FlushCompress) -> Vec<u8> {
    let mut state = Compress::new(level, false);
    // Room for all of it at once: a compressor that runs out of room may keep its last blocks and not say so.
    let mut out = Vec::with_capacity(bytes.len() + bytes.len() / 8 + 1024);
    loop {
        let read = usize::try_from(state.total_in()).unwrap_or(bytes.len()).min(bytes.len());
        let status = state.compress_vec(&bytes[read..], &mut out, flush);
        // A flush is complete once there is room left over.
        if status.is_err() || (state.total_in() as usize == bytes.len() && out.len() < out.capacity()) {
            out.shrink_to_fit();
            return out;
        }
        out.reserve(out.capacity().max(1024));
    }
}

/// How many bytes come of a zlib stream, up to a limit. What is none gives nothing; what is damaged, as much as comes.
pub fn inflated_length(bytes: &[u8], most: u64) -> u64 {
    let mut decoder = ZlibDecoder::new(bytes).take(most);
    let mut buffer = vec![0; 64 << 10];
    let mut sum = 0;
    while let Ok(count @ 1..) = decoder.read(&mut buffer) {
        sum += count as u64;
    }
    sum
}

/// What a whole zlib stream holds.
#[cfg(test)]
pub fn inflated(stream: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    ZlibDecoder::new(stream).read_to_end(&mut bytes).expect("a zlib stream");
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_make_one_stream_that_another_reader_opens() {
        let bytes: Vec<u8> = (0..3 * BAND + 17).map(|at| ((at * at) >> 7) as u8).collect();
        for whole in [&bytes[..], &bytes[..BAND], &bytes[..5], &[]] {
            for stream in [deflate_fast(whole), deflate(whole)] {
                assert!(inflated(&stream) == whole);
            }
        }
    }

    #[test]
    fn rows_come_back_whether_they_come_at_once_or_in_parts_and_small_is_never_larger() {
        let wave = |at: usize| ((at as f64 / 97.0).sin() * 90.0 + (at % 1200) as f64 / 9.0) as u8;
        for (samples, row) in [((0..5 << 20).map(wave).collect::<Vec<u8>>(), 1200), (vec![7; 3 << 20], 1200)] {
            let packed = |packing, part: usize| {
                let mut rows = PackedRows::new(row, 4, packing);
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

    /// Noise of all degrees: bytes that compress to a third and bytes that hardly do.
    #[test]
    fn no_blocks_lose_their_end() {
        let mut seed = 1_u32;
        for degree in 0..60 {
            let bytes: Vec<u8> = (0..190_000)
                .map(|_| {
                    seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    if (seed >> 8) % 60 < degree { (seed >> 24) as u8 } else { 7 }
                })
                .collect();
            let blocks = blocks(&bytes);
            assert_eq!(blocks[blocks.len() - 4..], [0, 0, 0xFF, 0xFF], "{degree}");
            let mut read = Vec::with_capacity(bytes.len() + 64);
            let mut inflate = flate2::Decompress::new(false);
            inflate.decompress_vec(&blocks, &mut read, flate2::FlushDecompress::Sync).expect("sound blocks");
            assert_eq!(read.len(), bytes.len(), "{degree}");
        }
    }
}
