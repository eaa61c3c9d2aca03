//! Cover: the elements, resolved, in the order of printing.

use crate::cover::{BarCode, Facts, Flat, Look, Pen, Place, Reading, Region, Spine, Waiver};
use crate::ground::{Findings, Rect, Span, Spanned};
use crate::scene::{Kind, Sheet};
use crate::typeset::Typesetter;
use std::cell::RefCell;
use std::sync::Arc;

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

/// One thing on the cover: where it stands, how it mixes, and what it draws.
#[derive(Clone)]
pub struct Element {
    pub name: Spanned<String>,
    /// A panel's name, or `wrap`.
    pub panel: String,
    pub place: Place,
    pub look: Look,
    pub body: Arc<dyn Draw>,
    /// All that is said of it.
    pub span: Span,
}

/// What an element shows.
pub trait Draw: Send + Sync {
    fn kind(&self) -> Kind;

    /// The size it takes where its place leaves that open. `room` is the space there is; a known side is fixed.
    /// `None` when it has no size of its own.
    fn natural(&self, room: Open, bench: &Bench<'_>) -> Natural;

    /// Draws into a frame of the pen's own space. `Pen::room` says in which room its size was found, so that what is drawn
    /// is what `natural` found there.
    fn draw(&self, frame: Rect, pen: &mut Pen<'_>);

    /// How far the capitals of its first line, and that line's baseline, lie under its upper edge.
    fn first_line(&self, _room: Open, _bench: &Bench<'_>) -> Option<FirstLine> {
        None
    }

    /// The bar code that it is, for those who check it.
    fn bar_code(&self) -> Option<&BarCode> {
        None
    }

    /// Nothing stands here: neighbours measure from where it would have begun.
    fn absent(&self) -> bool {
        false
    }

    /// The elements inside it, for those who look through a whole cover.
    fn inner(&self) -> &[Element] {
        &[]
    }
}

/// The size of a frame, as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Open {
    pub width: Limit,
    pub height: Limit,
}

/// One side of a frame, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    Fixed(f64),
    /// The element finds its own, and this is the most there is.
    Most(f64),
}

impl Limit {
    pub fn most(self) -> f64 {
        match self {
            Limit::Fixed(side) | Limit::Most(side) => side,
        }
    }

    pub fn fixed(self) -> Option<f64> {
        match self {
            Limit::Fixed(side) => Some(side),
            Limit::Most(_) => None,
        }
    }
}

impl Open {
    pub fn turned(self) -> Open {
        Open { width: self.height, height: self.width }
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Natural {
    pub width: Option<f64>,
    pub height: Option<f64>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FirstLine {
    pub cap_top: f64,
    pub baseline: f64,
}

/// What elements need at hand while they are laid and drawn.
#[derive(Clone, Copy)]
pub struct Bench<'a> {
    pub facts: &'a Facts,
    pub sheet: &'a Sheet,
    pub typesetter: &'a Typesetter,
    pub findings: &'a RefCell<Findings>,
}
