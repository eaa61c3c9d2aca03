//! Where a fact stands in the files of a cover. Equality of facts ignores it.

use std::ops::Range;

/// A file of one build, by its place in the order of reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default, serde::Serialize, serde::Deserialize)]
pub struct FileId(pub u32);

/// Bytes `start..end` of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default, serde::Serialize, serde::Deserialize)]
pub struct Span {
    pub file: FileId,
    pub start: usize,
    pub end: usize,
}

impl Span {
    pub fn new(file: FileId, range: Range<usize>) -> Span {
        Span { file, start: range.start, end: range.end }
    }
}

/// A value and where it was stated. Two are equal when their values are.
#[derive(Clone, Copy, Debug, Default)]
pub struct Spanned<T> {
    pub value: T,
    pub span: Span,
}

impl<T> Spanned<T> {
    pub fn new(value: T, span: Span) -> Spanned<T> {
        Spanned { value, span }
    }
}

impl<T: PartialEq> PartialEq for Spanned<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}
