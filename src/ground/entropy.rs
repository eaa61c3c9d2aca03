//! Blocks of deflate (RFC 1951) for rows that are predicted already: runs of zeros, and a Huffman code of its own for each block.
//!
//! What a good prediction leaves of a picture is noise round zero. A search for repeats finds little in it and takes most of
//! the time, so there is none: measured on pictures of a press, ten times as fast as an encoder that searches, and smaller.

use crate::ground::bits::{BitWriter, Code};
use crate::ground::block::{
    END, HEAD, LONGEST, Lengths, Repeat, STORED, SYMBOLS, head, repeat, repeats, stored, zeros,
};
use crate::ground::huffman::{code_lengths, codes};

/// The one distance is one byte back. Two codes of one bit: a set that is complete, which some readers ask for.
const ONE_DISTANCE: [u8; 2] = [1, 1];
/// Bytes that share a code.
const BLOCK: usize = 128 << 10;

/// Blocks that do not look back beyond themselves and end on a whole byte.
pub fn entropy_blocks(bytes: &[u8]) -> Vec<u8> {
    let blocks = bytes.len() / BLOCK + 1;
    let mut out = BitWriter::with_room(bytes.len() + bytes.len() / STORED * 5 + blocks * HEAD);
    bytes.chunks(BLOCK).for_each(|bytes| block(bytes, &mut out));
    stored(&[], &mut out);
    out.finish()
}

/// A symbol of the alphabet of bytes and lengths, or a run of zeros: what a block is made of, in order.
trait Symbols {
    fn eight(&mut self, bytes: [u8; 8]);
    fn byte(&mut self, byte: u8);
    /// So many zeros again.
    fn repeat(&mut self, length: usize);
}

fn walk(bytes: &[u8], parts: &mut impl Symbols) {
    let mut at = 0;
    while let Some(eight) = bytes[at..].first_chunk::<8>() {
        if *eight != [0; 8] {
            parts.eight(*eight);
            at += 8;
            continue;
        }
        let run = zeros(&bytes[at..]);
        parts.byte(0);
        let over = repeats(run - 1, |length| parts.repeat(length));
        (0..over).for_each(|_| parts.byte(0));
        at += run;
    }
    bytes[at..].iter().for_each(|byte| parts.byte(*byte));
}

/// How often each symbol comes. Neighbouring bytes are counted apart, so that equal ones do not wait for each other.
struct Counts {
    bytes: [[u32; 256]; 4],
    repeats: [u32; SYMBOLS - END],
    extra_bits: usize,
}

impl Symbols for Counts {
    fn eight(&mut self, bytes: [u8; 8]) {
        for (at, byte) in bytes.into_iter().enumerate() {
            self.bytes[at % 4][usize::from(byte)] += 1;
        }
    }

    fn byte(&mut self, byte: u8) {
        self.bytes[0][usize::from(byte)] += 1;
    }

    fn repeat(&mut self, length: usize) {
        let Repeat { symbol, extra, .. } = repeat(length);
        self.repeats[symbol - END] += 1;
        self.extra_bits += extra as usize + 1;
    }
}

impl Counts {
    fn of(bytes: &[u8]) -> Counts {
        let mut counts = Counts { bytes: [[0; 256]; 4], repeats: [0; SYMBOLS - END], extra_bits: 0 };
        walk(bytes, &mut counts);
        counts.repeats[0] = 1;
        counts
    }

    fn all(&self) -> [u32; SYMBOLS] {
        std::array::from_fn(|symbol| match symbol {
            0..END => self.bytes.iter().map(|bytes| bytes[symbol]).sum(),
            _ => self.repeats[symbol - END],
        })
    }
}

struct Writer<'a> {
    code: &'a [Code; SYMBOLS],
    out: &'a mut BitWriter,
}

impl Symbols for Writer<'_> {
    #[inline]
    fn eight(&mut self, bytes: [u8; 8]) {
        for four in bytes.as_chunks::<4>().0 {
            for byte in four {
                self.out.put(self.code[usize::from(*byte)]);
            }
            self.out.drain();
        }
    }

    fn byte(&mut self, byte: u8) {
        self.out.write(self.code[usize::from(byte)]);
    }

    fn repeat(&mut self, length: usize) {
        let Repeat { symbol, extra, first } = repeat(length);
        self.out.put(self.code[symbol]);
        // The code of the distance is one bit, 0.
        self.out.write(Code { bits: (length - first) as u32, length: extra + 1 });
    }
}

fn block(bytes: &[u8], out: &mut BitWriter) {
    let counts = Counts::of(bytes);
    let all = counts.all();
    let lengths: Lengths = code_lengths(&all, LONGEST);
    let bits: usize = all.iter().zip(&lengths).map(|(count, length)| *count as usize * usize::from(*length)).sum();
    if bits + counts.extra_bits + HEAD * 8 > bytes.len() * 8 {
        return stored(bytes, out);
    }
    head(&lengths, &ONE_DISTANCE, out);
    let code = codes(&lengths);
    walk(bytes, &mut Writer { code: &code, out });
    out.write(code[END]);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::block::trial::{inflated, noise};

    #[test]
    fn another_library_reads_noise_of_all_degrees_and_runs_of_all_lengths() {
        let mut seed = 7;
        let mut samples: Vec<Vec<u8>> = (0..16).map(|length| vec![0; length]).collect();
        samples.extend((0..16).map(|length| vec![9; length]));
        samples.extend((8..530).map(|run| [&[1; 8][..], &vec![0; run], &[2; 900]].concat()));
        samples.push((0..BLOCK * 2 + 17).map(|_| noise(&mut seed) as u8).collect());
        for degree in [1, 3, 9, 40, 200, 255] {
            // Mostly small numbers on both sides of nothing, as predicted rows are.
            let near = |seed: &mut u32| (noise(seed) % degree * (noise(seed) % degree) / degree) as u8;
            samples.push((0..BLOCK + 1000).map(|at| if at % 3 == 0 { 0 } else { near(&mut seed) }).collect());
        }
        // Counts that grow like Fibonacci's numbers make the deepest tree there is.
        let (mut before, mut count) = (1, 1);
        let mut deep = Vec::new();
        for byte in 1..24_u8 {
            deep.extend(vec![byte; count]);
            (before, count) = (count, before + count);
        }
        samples.push(deep);
        for sample in samples {
            let blocks = entropy_blocks(&sample);
            assert!(inflated(&blocks, sample.len()) == sample, "{} bytes", sample.len());
            assert!(blocks.len() <= sample.len() + sample.len() / 1000 + HEAD, "{} bytes", sample.len());
        }
    }
}
