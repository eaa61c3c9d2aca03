//! What blocks of deflate are made of (RFC 1951): the head that states a code, lengths of repeats, bytes as they are.

use crate::ground::bits::{BitWriter, Code};
use crate::ground::huffman::{code_lengths, codes};

/// Longest code, in bits: four of them go into a word with what is left of the byte before.
pub const LONGEST: usize = 12;
/// The longest that the format has for the code that describes a code.
const LONGEST_OF_CODE: usize = 7;
/// Numbers of the format: bytes, the end of a block, lengths of repeats.
pub const END: usize = 256;
pub const SYMBOLS: usize = 286;
pub const LONGEST_REPEAT: usize = 258;
pub const SHORTEST_REPEAT: usize = 3;
/// The order in which lengths of the code's own code are written.
const ORDER: [usize; 19] = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
/// Bytes that a block's head takes at the most, and room for a word behind the last bit.
pub const HEAD: usize = 400;
pub const STORED: usize = 65_535;

/// The lengths of a block's code, 0 for what does not come.
pub type Lengths = [u8; SYMBOLS];

/// The length of a repeat as the format writes it (RFC 1951, 3.2.5): a symbol, and how far beyond its first length.
pub struct Repeat {
    pub symbol: usize,
    pub extra: u32,
    pub first: usize,
}

pub fn repeat(length: usize) -> Repeat {
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

/// Symbols of distances.
pub const DISTANCES: usize = 30;

/// A distance as the format writes it (RFC 1951, 3.2.5): a symbol, and how far beyond its first distance.
pub struct Distance {
    pub symbol: usize,
    pub extra: u32,
    pub beyond: u32,
}

impl Distance {
    pub fn of(distance: usize) -> Distance {
        let beyond = distance as u32 - 1;
        if beyond < 4 {
            return Distance { symbol: beyond as usize, extra: 0, beyond: 0 };
        }
        // Two symbols for each further bit.
        let extra = beyond.ilog2() - 1;
        let half = (beyond >> extra) % 2;
        Distance { symbol: 2 * (extra as usize + 1) + half as usize, extra, beyond: beyond & ((1 << extra) - 1) }
    }
}

/// A run behind its first byte in repeats, each no longer than the format has; what is too short for one is left over.
pub fn repeats(run: usize, mut each: impl FnMut(usize)) -> usize {
    let mut left = run;
    while left >= SHORTEST_REPEAT {
        // Nothing shorter than a repeat is left of a long run.
        let length = match left {
            259 | 260 => 255,
            _ => left.min(LONGEST_REPEAT),
        };
        each(length);
        left -= length;
    }
    left
}

/// How many zeros `bytes` begin with.
pub fn zeros(bytes: &[u8]) -> usize {
    let stretches = bytes.as_chunks::<32>().0;
    let long = stretches.iter().take_while(|stretch| **stretch == [0; 32]).count() * 32;
    let words = bytes[long..].as_chunks::<8>().0;
    let short = long + words.iter().take_while(|word| **word == [0; 8]).count() * 8;
    short + bytes[short..].iter().take_while(|byte| **byte == 0).count()
}

/// Bytes as they are, in blocks of their own; of none, a block that ends on a whole byte.
pub fn stored(bytes: &[u8], out: &mut BitWriter) {
    let mut rest = bytes;
    loop {
        let (part, more) = rest.split_at(rest.len().min(STORED));
        out.write(Code { bits: 0, length: 3 });
        out.align();
        let length = part.len() as u32;
        out.write(Code { bits: length | (!length & 0xFFFF) << 16, length: 32 });
        out.bytes(part);
        if more.is_empty() {
            return;
        }
        rest = more;
    }
}

/// The code of a block (RFC 1951, 3.2.7), itself in a code of lengths and their repeats.
/// `distances` end with one that is used.
pub fn head(lengths: &Lengths, distances: &[u8], out: &mut BitWriter) {
    const LENGTHS_AGAIN: usize = 16;
    const FEW_ZEROS: usize = 17;
    const MANY_ZEROS: usize = 18;
    let used = lengths.iter().rposition(|length| *length > 0).map_or(END + 1, |last| last + 1);
    let written = [&lengths[..used], distances].concat();
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
    // Not the last block; its code is described; 257 lengths and more, one distance and more, four lengths and more.
    let counted = [(used as u32 - 257, 5), (distances.len() as u32 - 1, 5), (described as u32 - 4, 4)];
    for (bits, length) in [(0, 1), (2, 2)].into_iter().chain(counted) {
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

/// What the tests of coders share.
#[cfg(test)]
pub mod trial {
    use flate2::{Decompress, FlushDecompress};

    /// Blocks as the inflater of another library reads them.
    pub fn inflated(blocks: &[u8], length: usize) -> Vec<u8> {
        let mut read = Vec::with_capacity(length + 64);
        Decompress::new(false).decompress_vec(blocks, &mut read, FlushDecompress::Sync).expect("sound blocks");
        read
    }

    /// Numbers by chance.
    pub fn noise(seed: &mut u32) -> u32 {
        *seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        *seed >> 8
    }
}
