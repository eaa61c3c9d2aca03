//! Bench: what elements need at hand while they are laid and drawn.

use crate::cover::Facts;
use crate::ground::Findings;
use crate::scene::Sheet;
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
}
