//! Adler-32 (RFC 1950), of parts that are joined later.

/// The checksum of RFC 1950, and over how many bytes it was taken.
#[derive(Clone, Copy)]
pub struct Adler {
    low: u32,
    high: u32,
    length: u64,
}

const MODULUS: u32 = 65_521;

impl Default for Adler {
    fn default() -> Adler {
        Adler { low: 1, high: 0, length: 0 }
    }
}

impl Adler {
    pub const SIZE: usize = 16;

    pub fn of(bytes: &[u8]) -> Adler {
        let value = simd_adler32::adler32(&bytes);
        Adler { low: value & 0xFFFF, high: value >> 16, length: bytes.len() as u64 }
    }

    /// The sum of these bytes and then those.
    #[must_use]
    pub fn then(self, next: Adler) -> Adler {
        let carried = (next.length % u64::from(MODULUS)) * u64::from(self.low + MODULUS - 1) % u64::from(MODULUS);
        Adler {
            low: (self.low + next.low + MODULUS - 1) % MODULUS,
            high: (self.high + next.high + carried as u32) % MODULUS,
            length: self.length + next.length,
        }
    }

    pub fn value(self) -> u32 {
        self.high << 16 | self.low
    }

    pub fn bytes(self) -> [u8; Adler::SIZE] {
        let word = u128::from(self.value()) << 64 | u128::from(self.length);
        word.to_be_bytes()
    }

    /// What `bytes` wrote.
    pub fn from_bytes(bytes: &[u8]) -> Adler {
        let word = bytes.iter().take(Adler::SIZE).fold(0_u128, |word, byte| word << 8 | u128::from(*byte));
        let value = (word >> 64) as u32;
        Adler { low: value & 0xFFFF, high: value >> 16, length: word as u64 }
    }
}

#[cfg(test)]
mod tests {
    use super::Adler;

    #[test]
    fn sums_as_the_standard_says() {
        // A well-known value, from memory.
        assert_eq!(Adler::of(b"Wikipedia").value(), 0x11E6_0398);
        let long: Vec<u8> = (0..200_000_u32).map(|at| (at * 7 + at / 300) as u8).collect();
        for cut in [0, 1, 70_000, 199_999] {
            let (a, b) = (Adler::of(&long[..cut]), Adler::of(&long[cut..]));
            let b = Adler::from_bytes(&b.bytes());
            assert_eq!(Adler::default().then(a).then(b).value(), Adler::of(&long).value());
        }
    }
}
