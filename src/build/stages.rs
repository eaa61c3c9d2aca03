//! The stages from tree to scene, as the rooms above run them.

use crate::assets::Shelf;
use crate::build::Workshop;
use crate::cover::{Desk, Measure, draw, read};
use crate::ground::Findings;
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

/// What the stages work with.
pub struct Tools<'a> {
    pub findings: &'a RefCell<Findings>,
    pub files: &'a Files,
    pub shelf: &'a dyn Shelf,
    pub workshop: &'a Workshop,
    pub typesetter: &'a Typesetter,
}

/// Read and draw.
pub fn design(tools: &Tools<'_>, tree: &Tree) -> Design {
    let Tools { findings, files, shelf, workshop, typesetter } = *tools;
    let desk = Desk { shelf, darkroom: &workshop.darkroom, library: typesetter.library(), files, findings };
    let cover = read(&desk, tree);
    let scene = draw(findings, &cover, typesetter);
    let deliver = &cover.facts.deliver;
    let delivery = Delivery { flat_ppi: deliver.flat_ppi, panel_ppi: deliver.panel_ppi, surround: deliver.surround };
    Design { scene, measures: cover.flat.measures, delivery }
}
