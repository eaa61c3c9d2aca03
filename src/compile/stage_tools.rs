//! What the stages from tree to scene work with.

use crate::assets::Shelf;
use crate::compile::workshop::Workshop;
use crate::ground::Findings;
use crate::source::{Files, Word};
use crate::typeset::Typesetter;
use std::cell::RefCell;

pub struct StageTools<'a> {
    pub findings: &'a RefCell<Findings>,
    pub files: &'a Files,
    pub shelf: &'a dyn Shelf,
    pub workshop: &'a Workshop,
    pub typesetter: &'a Typesetter,
}

/// The words of the outputs, which a cover may speak of.
pub fn output_words(workshop: &Workshop) -> Vec<&'static Word> {
    workshop.outputs.iter().map(|output| &output.word).collect()
}
