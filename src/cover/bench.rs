//! Bench: what elements need at hand while they are laid and drawn.

use crate::cover::{ArtBudget, Facts};
use crate::ground::{Findings, Span};
use crate::scene::{Sheet, Surface};
use crate::typeset::{Holes, Typesetter};
use std::cell::RefCell;

#[derive(Clone, Copy)]
pub struct Bench<'a> {
    pub facts: &'a Facts,
    pub sheet: &'a Sheet,
    pub typesetter: &'a Typesetter,
    pub findings: &'a RefCell<Findings>,
    /// What the lines of the element in hand run round, from the corner of its frame; `None` where nobody has looked.
    pub holes: Option<&'a Holes>,
    /// What pictures and drawings have taken so far.
    pub art: &'a RefCell<ArtBudget>,
    /// Where sizes of type are noted that all covers of a series are to share.
    pub found: Option<&'a RefCell<Vec<FoundSize>>>,
}

/// The size that words found in their frame.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundSize {
    /// The word that asks for one size in all covers.
    pub asked: Span,
    pub panel: Surface,
    pub element: String,
    pub points: f64,
}
