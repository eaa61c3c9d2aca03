//! Output settings: what a cover may choose of a file that is made of it, and what it chose.

use std::collections::BTreeMap;

/// What may be chosen of an output: `deliver { NAME WORD ppi=N }`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutputChoices {
    /// What the word says: `what stands around the trim`.
    pub about: &'static str,
    /// The usual one first; none: there is no word to choose.
    pub words: &'static [&'static str],
    /// The usual pixels per inch; `None`: it has no pixels.
    pub ppi: Option<f64>,
}

/// What was chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutputSettings {
    /// Empty where there is no word to choose.
    pub word: &'static str,
    pub ppi: f64,
}

/// The settings of outputs by their names.
pub type Delivery = BTreeMap<&'static str, OutputSettings>;

impl OutputChoices {
    /// Nothing can be chosen.
    pub const NONE: OutputChoices = OutputChoices { about: "", words: &[], ppi: None };

    pub const fn ppi(usual: f64) -> OutputChoices {
        OutputChoices { ppi: Some(usual), ..OutputChoices::NONE }
    }

    pub fn usual(&self) -> OutputSettings {
        OutputSettings { word: self.words.first().copied().unwrap_or_default(), ppi: self.ppi.unwrap_or_default() }
    }
}
