//! Cover: the elements, resolved, in the order of printing.

use crate::cover::{Element, Facts, Flat, Reading, Region, Spine, Waiver};
use crate::scene::Sheet;

pub struct Cover {
    pub facts: Facts,
    pub spine: Spine,
    pub flat: Flat,
    /// How the spine reads, and why.
    pub reading: (Reading, String),
    pub elements: Vec<Element>,
    pub waivers: Vec<Waiver>,
}

impl Cover {
    pub fn sheet(&self) -> &Sheet {
        &self.flat.sheet
    }

    /// The region that a panel's name, or `wrap`, stands for.
    pub fn region(&self, name: &str) -> Option<Region> {
        let safe = self.facts.format.safe;
        if name == "wrap" { Some(Region::wrap(self.sheet(), safe)) } else { Region::panel(self.sheet(), name, safe) }
    }
}
