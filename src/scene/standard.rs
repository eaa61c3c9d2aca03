//! Press standards as data: what a file made by each may hold, and how it says so.
//!
//! ISO 15930-7 (PDF/X-4) and ISO 15930-4 (PDF/X-1a:2003) were not at hand: the entries are what public sources agree on, and
//! those marked so are from memory. The printer's own check has the last word.

#[derive(Debug, PartialEq)]
pub struct PressStandard {
    /// What a cover calls it.
    pub word: &'static str,
    /// As the file says it.
    pub name: &'static str,
    /// The version of PDF that it is based on.
    pub pdf: (u8, u8),
    pub named_in: NamedIn,
    /// What mixes with what lies under it may stand in the file; else it is composed before.
    pub transparency: bool,
    /// Layers that a reader can switch off.
    pub layers: bool,
    /// The ICC versions that its output profile may have. For PDF/X-1a from memory.
    pub profiles: &'static [u8],
    /// Inks that one picture may name: an implementation limit of PDF readers, from memory.
    pub inks_of_a_picture: usize,
}

/// Where a file says what it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NamedIn {
    Xmp,
    Info,
}

pub static X4: PressStandard = PressStandard {
    word: "x-4",
    name: "PDF/X-4",
    pdf: (1, 6),
    named_in: NamedIn::Xmp,
    transparency: true,
    layers: true,
    profiles: &[2, 4],
    inks_of_a_picture: 32,
};

pub static X1A: PressStandard = PressStandard {
    word: "x-1a",
    name: "PDF/X-1a:2003",
    pdf: (1, 4),
    named_in: NamedIn::Info,
    transparency: false,
    layers: false,
    profiles: &[2],
    inks_of_a_picture: 8,
};

impl PressStandard {
    pub const WORDS: [&'static str; 2] = ["x-4", "x-1a"];

    pub fn called(word: &str) -> Option<&'static PressStandard> {
        [&X4, &X1A].into_iter().find(|standard| standard.word == word)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_has_its_standard() {
        assert_eq!(
            PressStandard::WORDS.map(|word| PressStandard::called(word).map(|found| found.word)),
            PressStandard::WORDS.map(Some)
        );
    }
}
