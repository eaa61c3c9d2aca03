//! Bits in a row, the lowest first, as deflate packs them (RFC 1951, 3.1.1).

/// Some bits, the first one lowest.
#[derive(Clone, Copy, Debug, Default)]
pub struct Code {
    pub bits: u32,
    pub length: u32,
}

impl Code {
    /// And others behind them.
    pub fn then(self, next: Code) -> Code {
        Code { bits: self.bits | next.bits << self.length, length: self.length + next.length }
    }
}

pub struct BitWriter {
    bytes: Vec<u8>,
    /// Whole bytes that are written.
    length: usize,
    word: u64,
    fill: u32,
}

const WORD: usize = size_of::<u64>();

impl BitWriter {
    /// With room for so many bytes; it grows where that is too little.
    pub fn with_room(bytes: usize) -> BitWriter {
        BitWriter { bytes: vec![0; bytes + WORD], length: 0, word: 0, fill: 0 }
    }

    /// Keeps bits back, 56 at most, until `drain`.
    #[inline]
    pub fn put(&mut self, code: Code) {
        self.word |= u64::from(code.bits) << self.fill;
        self.fill += code.length;
    }

    /// Writes the whole bytes of what was put.
    #[inline]
    pub fn drain(&mut self) {
        if self.bytes.len() < self.length + WORD {
            self.bytes.resize(self.bytes.len() * 2, 0);
        }
        self.bytes[self.length..self.length + WORD].copy_from_slice(&self.word.to_le_bytes());
        self.length += (self.fill / 8) as usize;
        self.word >>= self.fill & !7;
        self.fill %= 8;
    }

    #[inline]
    pub fn write(&mut self, code: Code) {
        self.put(code);
        self.drain();
    }

    /// Fills up the last byte.
    pub fn align(&mut self) {
        self.fill = self.fill.next_multiple_of(8);
        self.drain();
    }

    /// Whole bytes, behind whole bytes.
    pub fn bytes(&mut self, bytes: &[u8]) {
        debug_assert_eq!(self.fill, 0, "align() stands before bytes()");
        let end = self.length + bytes.len();
        if self.bytes.len() < end + WORD {
            self.bytes.resize((end + WORD).max(self.bytes.len() * 2), 0);
        }
        self.bytes[self.length..end].copy_from_slice(bytes);
        self.length = end;
    }

    pub fn finish(mut self) -> Vec<u8> {
        self.align();
        self.bytes.truncate(self.length);
        self.bytes.shrink_to_fit();
        self.bytes
    }
}
