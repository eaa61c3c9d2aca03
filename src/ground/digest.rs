//! Digest: bytes named by their content.

use rayon::prelude::*;
use sha2::{Digest as _, Sha256};
use std::fmt;

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
pub struct Digest([u8; 32]);

impl Digest {
    pub fn of(bytes: &[u8]) -> Digest {
        Digest::of_all(&[bytes])
    }

    /// The plain SHA-256 of a file, as anyone else counts it.
    pub fn of_file(bytes: &[u8]) -> Digest {
        Digest::of_pieces([bytes])
    }

    /// The same of a file in pieces.
    pub fn of_pieces<'a>(pieces: impl IntoIterator<Item = &'a [u8]>) -> Digest {
        let mut hash = Sha256::new();
        for piece in pieces {
            hash.update(piece);
        }
        Digest(hash.finalize().into())
    }

    /// The digest of several parts; their lengths count, so that parts do not run together.
    pub fn of_all(parts: &[&[u8]]) -> Digest {
        let mut hash = Sha256::new();
        for part in parts {
            hash.update((part.len() as u64).to_le_bytes());
            hash.update(part);
        }
        Digest(hash.finalize().into())
    }

    /// The digest of a large file in pieces, found by all cores: that of the digests of its parts.
    pub fn of_large(pieces: &[&[u8]]) -> Digest {
        const PART: usize = 1 << 19;
        let parts = pieces.par_iter().flat_map(|piece| piece.par_chunks(PART)).map(Digest::of);
        let parts: Vec<[u8; 32]> = parts.map(|digest| digest.0).collect();
        Digest::of(parts.as_flattened())
    }

    pub fn bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_named_as_anyone_else_names_it() {
        // FIPS 180-2, example B.1.
        let known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(Digest::of_file(b"abc").to_string(), known);
        assert_eq!(Digest::of_pieces([&b"a"[..], b"", b"bc"]).to_string(), known);
        assert_ne!(Digest::of(b"abc"), Digest::of_file(b"abc"));
        assert_ne!(Digest::of_all(&[b"a", b"bc"]), Digest::of_all(&[b"ab", b"c"]));
        let large = vec![7; 3 << 20];
        let mut other = large.clone();
        other[2 << 20] = 8;
        assert_ne!(Digest::of_large(&[b"a", &large]), Digest::of_large(&[b"a", &other]));
        assert_ne!(Digest::of_large(&[b"a", &large]), Digest::of_large(&[&large, b"a"]));
    }
}
