//! Deflate (RFC 1950, RFC 1951): small things at once, large ones in bands side by side. The one door to the compressor.
//!
//! Bands end on whole bytes, so that one after the other they make one stream: the same bytes for any number of threads.

use crate::ground::Adler;
use crate::ground::entropy::entropy_blocks;
use crate::ground::repeats::repeat_blocks;
use crate::ground::rows::{filtered, predicted};
use flate2::read::ZlibDecoder;
use flate2::{Compress, Compression, Crc, FlushCompress};
use rayon::prelude::*;
use std::io::Read as _;

/// Bytes that one thread compresses at a time. Part of the format: another size gives other bytes.
pub const BAND: usize = 1 << 20;
/// Measured on 513 MB of rows of the examples' flat pictures: level 1 leaves 7.9 % in 0.8 s, 2 leaves 7.2 % in 1.3 s, 3 leaves
/// 6.6 % in 1.6 s, 4 leaves 6.4 % in 1.9 s.
pub const HURRIED: u32 = 3;
/// What is searched takes several times as long as a Huffman code alone, and must leave this share of it, in percent: without
/// it, photographs take up to twice as long for 1 % less.
const GAIN: usize = 96;
/// Rows of which so many bytes in a hundred are nothing, once they are filtered, are flat colour, and need no trial.
/// From 60 to 97 the examples' flats come out within 0.2 % of each other.
const EVEN: usize = 80;
/// Rows on which coders are tried, at the least.
const TRIED: usize = 4;
/// A zlib stream begins: deflate, a window of 32 KiB, quick.
pub const HEAD: [u8; 2] = [0x78, 0x01];
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

/// Rows as blocks of a stream that do not look back and end on a whole byte, and the checksum of what is in them. Rows that
/// hardly repeat are predicted and have a Huffman code alone; others are searched for repeats. A trial on a part of them
/// decides: measured on five pictures of the first example, the choices cost 0.3 % over the better one for each strip.
pub fn coded_rows<'a>(rows: impl Iterator<Item = &'a [u8]> + Clone, pixel: usize) -> (Vec<u8>, Adler) {
    let bent = filtered(middle(rows.clone()), pixel);
    let nothing = bent.iter().map(|byte| usize::from(*byte == 0)).sum::<usize>();
    let hardly_repeats = || is_better_alone(alone(middle(rows.clone()), pixel).0.len(), repeat_blocks(&bent).len());
    if nothing * 100 < bent.len() * EVEN && hardly_repeats() {
        return alone(rows, pixel);
    }
    let rows = filtered(rows, pixel);
    (repeat_blocks(&rows), Adler::of(&rows))
}

/// Rows in the middle, on which coders are tried.
pub fn middle<'a>(rows: impl Iterator<Item = &'a [u8]> + Clone) -> impl Iterator<Item = &'a [u8]> + Clone {
    let count = rows.clone().count();
    let tried = (count / 16).max(TRIED);
    rows.skip(count.saturating_sub(tried) / 2).take(tried)
}

/// By what is left of some rows: by a Huffman code alone, and by a search.
pub fn is_better_alone(alone: usize, found: usize) -> bool {
    alone * GAIN < found * 100
}

/// Rows predicted, by a Huffman code alone.
pub fn alone<'a>(rows: impl Iterator<Item = &'a [u8]> + Clone, pixel: usize) -> (Vec<u8>, Adler) {
    let rows = predicted(rows, pixel);
    (entropy_blocks(&rows), Adler::of(&rows))
}

/// Rows behind their filters, searched at a level of zlib.
pub fn searched(rows: &[u8], level: u32) -> (Vec<u8>, Adler) {
    (blocks(rows, level), Adler::of(rows))
}

/// Blocks of a stream that end on a whole byte, at a level of zlib.
pub fn blocks(bytes: &[u8], level: u32) -> Vec<u8> {
    compress(bytes, Compression::new(level), FlushCompress::Full)
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
            let blocks = blocks(&bytes, HURRIED);
            assert_eq!(blocks[blocks.len() - 4..], [0, 0, 0xFF, 0xFF], "{degree}");
            let mut read = Vec::with_capacity(bytes.len() + 64);
            let mut inflate = flate2::Decompress::new(false);
            inflate.decompress_vec(&blocks, &mut read, flate2::FlushDecompress::Sync).expect("sound blocks");
            assert_eq!(read.len(), bytes.len(), "{degree}");
        }
    }
}
