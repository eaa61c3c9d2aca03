//! Cover: the elements, resolved, in the order of printing.

use crate::cover::{Approval, Element, Facts, Flat, Reading, Region, Spine, Waiver};
use crate::scene::{Sheet, Surface};

pub struct Cover {
    pub facts: Facts,
    pub spine: Spine,
    pub flat: Flat,
    /// How the spine reads, and why.
    pub reading: (Reading, String),
    pub elements: Vec<Element>,
    pub waivers: Vec<Waiver>,
    pub approvals: Vec<Approval>,
}

impl Cover {
    /// Where elements find their places. On a screen less of it is delivered.
    pub fn sheet(&self) -> &Sheet {
        &self.flat.sheet
    }

    /// The region of a panel that this cover has, or of the wrap.
    pub fn region(&self, surface: Surface) -> Option<Region> {
        let safe = self.facts.format.safe;
        match surface {
            Surface::Wrap => Some(Region::wrap(self.sheet(), safe)),
            Surface::Panel(name) => Region::panel(self.sheet(), name, safe),
        }
    }
}
