//! Huffman codes of a JPEG scan, and the bits they are read from (ITU-T T.81, annexes C and F).

/// Bits that one look at the table settles.
const QUICK: u32 = 9;
const LONGEST: u32 = 16;
/// Bits that one look settles where codes are only passed over, several at a time.
const PASSED: u32 = 12;
/// The last place of a block.
const LAST: u32 = 63;
/// Bits of a coefficient, for samples of 8 bits.
pub const LONGEST_AC: u8 = 10;

/// Codes of up to 16 bits, each with the byte that it stands for.
pub struct HuffmanTable {
    /// By the next `QUICK` bits: the length of the code and its byte; length 0 where the code is longer.
    quick: Vec<(u8, u8)>,
    /// By length: the first code, the first code that is none any more, and the place of the first one's byte.
    lengths: [(u32, u32, usize); LONGEST as usize + 1],
    bytes: Vec<u8>,
}

/// Coefficients whose codes lie side by side: their bits, how many places of the block they take, and whether it ends there.
#[derive(Clone, Copy, Default)]
struct Stride {
    bits: u8,
    places: u8,
    ends: bool,
}

/// What the next `PASSED` bits pass over in a block, by these bits; no bits where nothing is sure.
pub struct Strides(Vec<Stride>);

impl Strides {
    pub fn new(table: &HuffmanTable) -> Strides {
        Strides((0..1 << PASSED).map(|ahead| stride(table, ahead)).collect())
    }
}

/// Whole codes only; of what stands behind the last one, the bits of its coefficient may reach further than was looked.
fn stride(table: &HuffmanTable, ahead: u32) -> Stride {
    let mut found = Stride::default();
    while u32::from(found.bits) < PASSED {
        let left = PASSED - u32::from(found.bits);
        let rest = ahead & ((1 << left) - 1);
        let look = if left < QUICK { rest << (QUICK - left) } else { rest >> (left - QUICK) };
        let (length, code) = table.quick[look as usize];
        let (zeros, own) = (code >> 4, code & 15);
        let is_mark = own == 0 && zeros != 0 && zeros != 15;
        if length == 0 || u32::from(length) > left || own > LONGEST_AC || is_mark {
            break;
        }
        found.bits += length + own;
        if code == 0 {
            found.ends = true;
            break;
        }
        found.places += zeros + 1;
    }
    found
}

impl HuffmanTable {
    /// From what a DHT segment says: how many codes of each length, and their bytes. `None` where the codes do not fit.
    pub fn new(counts: &[u8; 16], bytes: &[u8]) -> Option<HuffmanTable> {
        let mut quick = vec![(0, 0); 1 << QUICK];
        let mut lengths = [(0, 0, 0); LONGEST as usize + 1];
        let (mut code, mut place) = (0_u32, 0_usize);
        for (length, count) in (1..).zip(counts) {
            let end = code + u32::from(*count);
            if end > 1 << length {
                return None;
            }
            lengths[length as usize] = (code, end, place);
            for own in code..end {
                let byte = *bytes.get(place)?;
                if length <= QUICK {
                    let free = QUICK - length;
                    let first = (own << free) as usize;
                    quick[first..first + (1 << free)].fill((length as u8, byte));
                }
                place += 1;
            }
            code = end << 1;
        }
        Some(HuffmanTable { quick, lengths, bytes: bytes.get(..place)?.to_vec() })
    }
}

/// The entropy-coded bits between two markers.
pub struct Bits<'a> {
    bytes: &'a [u8],
    /// The next byte that has not been taken up.
    pub at: usize,
    hold: u64,
    count: u32,
}

impl<'a> Bits<'a> {
    pub fn new(bytes: &'a [u8], at: usize) -> Bits<'a> {
        Bits { bytes, at, hold: 0, count: 0 }
    }

    /// Takes up bytes until a marker comes. A byte 0xff is written with 0 behind it.
    fn fill(&mut self) {
        while self.count <= 48 {
            if let Some(plain) = self.bytes.get(self.at..).and_then(|rest| rest.first_chunk().copied())
                && self.count <= 32
                && !has_ff(u32::from_be_bytes(plain))
            {
                self.hold = self.hold << 32 | u64::from(u32::from_be_bytes(plain));
                (self.at, self.count) = (self.at + 4, self.count + 32);
                continue;
            }
            let byte = match self.bytes.get(self.at..) {
                Some([0xff, 0, ..]) => {
                    self.at += 2;
                    0xff
                }
                Some([byte, ..]) if *byte != 0xff => {
                    self.at += 1;
                    *byte
                }
                _ => return,
            };
            self.hold = self.hold << 8 | u64::from(byte);
            self.count += 8;
        }
    }

    /// The next bits as a number; `None` when there are not so many, or more than 16 are asked for: only damage does.
    pub fn take(&mut self, length: u32) -> Option<u32> {
        if length > LONGEST {
            return None;
        }
        if self.count < length {
            self.fill();
        }
        self.count = self.count.checked_sub(length)?;
        Some((self.hold >> self.count) as u32 & ((1 << length) - 1))
    }

    /// The byte of the next code.
    pub fn decode(&mut self, table: &HuffmanTable) -> Option<u8> {
        if self.count < LONGEST {
            self.fill();
        }
        // Near the end of the bits the rest counts as 0, and is not taken.
        let ahead = if self.count >= LONGEST {
            (self.hold >> (self.count - LONGEST)) as u32 & 0xffff
        } else {
            (self.hold << (LONGEST - self.count)) as u32 & 0xffff
        };
        let (length, byte) = table.quick[(ahead >> (LONGEST - QUICK)) as usize];
        if length > 0 {
            self.count = self.count.checked_sub(u32::from(length))?;
            return Some(byte);
        }
        for length in QUICK + 1..=LONGEST {
            let code = ahead >> (LONGEST - length);
            let (first, end, place) = table.lengths[length as usize];
            if (first..end).contains(&code) {
                self.count = self.count.checked_sub(length)?;
                return table.bytes.get(place + (code - first) as usize).copied();
            }
        }
        None
    }

    /// Passes over coefficients from place `at` of a block, as far as their codes are short and surely inside it: the place
    /// of the next one, or `None` where the block has ended.
    pub fn pass(&mut self, strides: &Strides, mut at: u32) -> Option<u32> {
        loop {
            // A stride is shorter than this.
            if self.count < 32 {
                self.fill();
                if self.count < 32 {
                    return Some(at);
                }
            }
            let ahead = (self.hold >> (self.count - PASSED)) as usize & ((1 << PASSED) - 1);
            let Stride { bits, places, ends } = strides.0[ahead];
            let next = at + u32::from(places);
            if bits == 0 || next > LAST {
                return Some(at);
            }
            self.count -= u32::from(bits);
            if ends {
                return None;
            }
            at = next;
        }
    }

    /// Whether nothing is left but the bits that fill up the last byte, and a marker follows.
    pub fn at_marker(&mut self) -> bool {
        self.fill();
        self.count < 8 && self.bytes.get(self.at) == Some(&0xff)
    }

    /// Goes on behind the restart marker of this number, and counts it; `None` where it does not stand here.
    pub fn restart(&mut self, number: &mut u8) -> Option<()> {
        if !self.at_marker() || self.bytes.get(self.at + 1) != Some(&(0xd0 | (*number % 8))) {
            return None;
        }
        (self.at, self.hold, self.count) = (self.at + 2, 0, 0);
        *number = number.wrapping_add(1);
        Some(())
    }
}

/// Whether one of four bytes is 0xff.
fn has_ff(bytes: u32) -> bool {
    bytes & ((bytes & 0x7f7f_7f7f) + 0x0101_0101) & 0x8080_8080 != 0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_longer_than_any_are_none() {
        let mut bits = Bits::new(&[0xa5; 12], 0);
        assert_eq!([17, 32, 64, 255].map(|length| bits.take(length)), [None; 4]);
        assert_eq!((bits.take(4), bits.take(16)), (Some(0xa), Some(0x5a5a)));
    }
}
