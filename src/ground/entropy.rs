//! Blocks of deflate (RFC 1951) for rows that are predicted already: runs of zeros, and a Huffman code of its own for each block.
//!
//! What a good prediction leaves of a picture is noise round zero. A search for repeats finds little in it and takes most of
//! the time, so there is none: measured on pictures of a press, ten times as fast as an encoder that searches, and smaller.

use crate::ground::bits::{BitWriter, Code};
use crate::ground::huffman::{code_lengths, codes};

/// Bytes that share a code.
const BLOCK: usize = 128 << 10;
/// Longest code, in bits: four of them go into a word with what is left of the byte before.
const LONGEST: usize = 12;
/// The longest that the format has for the code that describes a code.
const LONGEST_OF_CODE: usize = 7;
/// Numbers of the format: bytes, the end of a block, lengths of repeats.
const END: usize = 256;
const SYMBOLS: usize = 286;
const LONGEST_REPEAT: usize = 258;
const SHORTEST_REPEAT: usize = 3;
/// The order in which lengths of the code's own code are written.
const ORDER: [usize; 19] = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
/// Bytes that a block's head takes at the most, and room for a word behind the last bit.
const HEAD: usize = 400;
const STORED: usize = 65_535;

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
        let mut left = run - 1;
        while left >= SHORTEST_REPEAT {
            // Nothing shorter than a repeat is left over.
            let length = match left {
                259 | 260 => 255,
                _ => left.min(LONGEST_REPEAT),
            };
            parts.repeat(length);
            left -= length;
        }
        (0..left).for_each(|_| parts.byte(0));
        at += run;
    }
    bytes[at..].iter().for_each(|byte| parts.byte(*byte));
}

/// How many zeros `bytes` begin with.
fn zeros(bytes: &[u8]) -> usize {
    let (words, rest) = bytes.as_chunks::<8>();
    match words.iter().position(|word| *word != [0; 8]) {
        Some(word) => word * 8 + (u64::from_le_bytes(words[word]).trailing_zeros() / 8) as usize,
        None => words.len() * 8 + rest.iter().take_while(|byte| **byte == 0).count(),
    }
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

/// A length of zeros as the format writes it (RFC 1951, 3.2.5): a symbol, and how far beyond its first length.
struct Repeat {
    symbol: usize,
    extra: u32,
    first: usize,
}

fn repeat(length: usize) -> Repeat {
    let beyond = length - SHORTEST_REPEAT;
    if length == LONGEST_REPEAT {
        return Repeat { symbol: SYMBOLS - 1, extra: 0, first: length };
    }
    if beyond < 8 {
        return Repeat { symbol: END + 1 + beyond, extra: 0, first: length };
    }
    // Four symbols for each further bit.
    let extra = beyond.ilog2() - 2;
    let quarter = (beyond >> extra) % 4;
    let first = ((4 + quarter) << extra) + SHORTEST_REPEAT;
    Repeat { symbol: END + 1 + 4 * (extra as usize + 1) + quarter, extra, first }
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
        // The one distance is one byte back, and its code one bit, 0.
        self.out.write(Code { bits: (length - first) as u32, length: extra + 1 });
    }
}

fn block(bytes: &[u8], out: &mut BitWriter) {
    let counts = Counts::of(bytes);
    let all = counts.all();
    let lengths: [u8; SYMBOLS] = code_lengths(&all, LONGEST);
    let bits: usize = all.iter().zip(&lengths).map(|(count, length)| *count as usize * usize::from(*length)).sum();
    if bits + counts.extra_bits + HEAD * 8 > bytes.len() * 8 {
        return bytes.chunks(STORED).for_each(|bytes| stored(bytes, out));
    }
    head(&lengths, out);
    let code = codes(&lengths);
    walk(bytes, &mut Writer { code: &code, out });
    out.write(code[END]);
}

/// Bytes as they are.
fn stored(bytes: &[u8], out: &mut BitWriter) {
    out.write(Code { bits: 0, length: 3 });
    out.align();
    let length = bytes.len() as u32;
    out.write(Code { bits: length | (!length & 0xFFFF) << 16, length: 32 });
    out.bytes(bytes);
}

/// The code of a block (RFC 1951, 3.2.7), itself in a code of lengths and their repeats.
fn head(lengths: &[u8; SYMBOLS], out: &mut BitWriter) {
    const LENGTHS_AGAIN: usize = 16;
    const FEW_ZEROS: usize = 17;
    const MANY_ZEROS: usize = 18;
    let used = lengths.iter().rposition(|length| *length > 0).map_or(END + 1, |last| last + 1);
    // Two codes of one bit for distances: a set that is complete, which some readers ask for.
    let written = [&lengths[..used], &[1, 1]].concat();
    // Symbol, what stands behind it, in so many bits.
    let mut symbols: Vec<(usize, Code)> = Vec::new();
    let mut rest = &written[..];
    while let [first, ..] = rest {
        let alike = rest.iter().take_while(|length| *length == first).count();
        let taken = match (*first, alike) {
            (0, 3..=10) => {
                symbols.push((FEW_ZEROS, Code { bits: alike as u32 - 3, length: 3 }));
                alike
            }
            (0, 11..) => {
                let taken = alike.min(138);
                symbols.push((MANY_ZEROS, Code { bits: taken as u32 - 11, length: 7 }));
                taken
            }
            (_, 4..) => {
                let again = (alike - 1).min(6);
                symbols.push((usize::from(*first), Code::default()));
                symbols.push((LENGTHS_AGAIN, Code { bits: again as u32 - 3, length: 2 }));
                again + 1
            }
            _ => {
                symbols.push((usize::from(*first), Code::default()));
                1
            }
        };
        rest = &rest[taken..];
    }
    let mut counts = [0; ORDER.len()];
    for (symbol, _) in &symbols {
        counts[*symbol] += 1;
    }
    let own: [u8; ORDER.len()] = code_lengths(&counts, LONGEST_OF_CODE);
    let code = codes(&own);
    let described = ORDER.iter().rposition(|symbol| own[*symbol] > 0).map_or(4, |last| (last + 1).max(4));
    // Not the last block; its code is described; 257 lengths and more, two distances, four lengths and more.
    for (bits, length) in [(0, 1), (2, 2), (used as u32 - 257, 5), (1, 5), (described as u32 - 4, 4)] {
        out.write(Code { bits, length });
    }
    for symbol in &ORDER[..described] {
        out.write(Code { bits: u32::from(own[*symbol]), length: 3 });
    }
    for (symbol, more) in symbols {
        out.write(code[symbol]);
        out.write(more);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use flate2::{Decompress, FlushDecompress};

    /// As the inflater of another library reads it.
    fn inflated(blocks: &[u8], length: usize) -> Vec<u8> {
        let mut read = Vec::with_capacity(length + 64);
        Decompress::new(false).decompress_vec(blocks, &mut read, FlushDecompress::Sync).expect("sound blocks");
        read
    }

    fn noise(seed: &mut u32) -> u32 {
        *seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        *seed >> 8
    }

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
