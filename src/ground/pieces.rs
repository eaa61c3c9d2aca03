//! Pieces: the bytes of a file, piece by piece, so that a large stream that others hold too lies in memory once.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

/// Bytes, or part of such that others hold too.
#[derive(Clone, Debug, Default)]
pub struct SharedBytes {
    bytes: Arc<Vec<u8>>,
    part: Range<usize>,
}

impl SharedBytes {
    pub fn bytes(&self) -> &[u8] {
        &self.bytes[self.part.clone()]
    }

    /// Some of them.
    #[must_use]
    pub fn part(&self, range: Range<usize>) -> SharedBytes {
        let within = |at: usize| (self.part.start + at).min(self.part.end);
        SharedBytes { bytes: self.bytes.clone(), part: within(range.start)..within(range.end) }
    }

    /// The same without so many bytes at its head.
    #[must_use]
    pub fn after(&self, at: usize) -> SharedBytes {
        self.part(at..self.bytes().len())
    }
}

impl From<Arc<Vec<u8>>> for SharedBytes {
    fn from(bytes: Arc<Vec<u8>>) -> SharedBytes {
        SharedBytes { part: 0..bytes.len(), bytes }
    }
}

impl From<Vec<u8>> for SharedBytes {
    fn from(bytes: Vec<u8>) -> SharedBytes {
        Arc::new(bytes).into()
    }
}

#[derive(Clone, Debug, Default)]
pub struct Pieces(Vec<SharedBytes>);

impl Pieces {
    pub fn push(&mut self, piece: SharedBytes) {
        self.0.push(piece);
    }

    pub fn length(&self) -> u64 {
        self.slices().map(|slice| slice.len() as u64).sum()
    }

    /// One after the other they are the file.
    pub fn slices(&self) -> impl Iterator<Item = &[u8]> {
        self.0.iter().map(SharedBytes::bytes)
    }

    /// All in one place: for small files, and for tests.
    pub fn whole(&self) -> Cow<'_, [u8]> {
        match &self.0[..] {
            [only] => Cow::Borrowed(only.bytes()),
            _ => Cow::Owned(self.slices().collect::<Vec<_>>().concat()),
        }
    }
}

impl From<Vec<u8>> for Pieces {
    fn from(bytes: Vec<u8>) -> Pieces {
        Pieces(vec![bytes.into()])
    }
}
