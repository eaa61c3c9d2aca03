//! The stages from tree to scene: where the rooms of cover and check are joined to the build.

use crate::assets::Shelf;
use crate::build::Workshop;
use crate::ground::{Findings, Span, number};
use crate::output::Delivery;
use crate::scene::Scene;
use crate::source::{Files, Tree};
use crate::typeset::Typesetter;
use std::cell::RefCell;

/// A cover drawn and checked: all that the outputs and the report want to know of it.
pub struct Design {
    pub scene: Scene,
    pub measures: Vec<Measure>,
    pub delivery: Delivery,
}

/// A number of the sheet and the sum it came from.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Measure {
    pub name: String,
    pub value: f64,
    /// `mm` or `pages`.
    pub unit: &'static str,
    pub sum: String,
}

impl Measure {
    /// `spine  19.32 mm  as computed`
    pub fn line(&self, name_width: usize) -> String {
        let value = format!("{} {}", number(self.value), self.unit);
        format!("{:name_width$}  {value:>12}  {}", self.name, self.sum)
    }
}

/// What the stages work with.
pub struct Tools<'a> {
    pub findings: &'a RefCell<Findings>,
    pub files: &'a Files,
    pub shelf: &'a dyn Shelf,
    pub workshop: &'a Workshop,
    pub typesetter: &'a Typesetter,
}

/// Read, draw, check. `None` only when there is nothing to draw on.
pub fn design(tools: &Tools<'_>, tree: &Tree) -> Option<Design> {
    let _ = tree;
    let span = Span::default();
    tools.findings.borrow_mut().error(span, "covers cannot be read yet", "this version has no cover room");
    None
}
