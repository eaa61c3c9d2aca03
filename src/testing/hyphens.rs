//! Hyphens: where a file of patterns parts words, for comparison with other programs.

use crate::typeset::PatternFile;

/// The bytes at which each word in small letters may part; `None` where the text is no file of patterns.
pub fn parted_by(patterns: &str, words: &[&str]) -> Option<Vec<Vec<usize>>> {
    let file = PatternFile::read(patterns).ok()?;
    Some(words.iter().map(|word| file.opportunities(word)).collect())
}
