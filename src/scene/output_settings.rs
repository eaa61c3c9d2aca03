//! Output settings: what a cover chose of a file that is made of it.

use std::collections::BTreeMap;

/// What was chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutputSettings {
    /// Empty where there is no word to choose.
    pub word: &'static str,
    pub ppi: f64,
}

/// The settings of outputs by their names.
pub type Delivery = BTreeMap<&'static str, OutputSettings>;
