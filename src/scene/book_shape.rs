//! Book shape: what the finished book looks like apart from its print, for pictures of the book as it stands.

use crate::ground::Ink;

/// Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct BookShape {
    pub cover: CoverKind,
    /// Width and height of a page.
    pub page: (f64, f64),
    /// All leaves together.
    pub block: f64,
    /// The spine's width on the sheet.
    pub spine: f64,
    /// The bands of leaves are round at the spine, and hollow at the fore edge.
    pub rounded: bool,
    pub bound_right: bool,
    pub lamination: Lamination,
    pub shade: PaperShade,
    /// A colour sprayed on the edges of the leaves.
    pub sprayed: Option<Ink>,
    /// The two colours of the head bands.
    pub head_bands: [Ink; 2],
    /// A marker that hangs out of its leaves.
    pub ribbon: Option<Ink>,
}

/// What holds the leaves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CoverKind {
    Paperback {
        stock: f64,
        /// Of relief scores, from the spine; 0 for none.
        hinge: f64,
        flaps: Option<Flaps>,
    },
    Case(BoardSizes),
    Jacket(BoardSizes, Flaps),
    Stapled {
        stock: f64,
    },
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flaps {
    pub width: f64,
    /// What front and back are longer by, so that the flaps can turn.
    pub turn: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardSizes {
    pub thickness: f64,
    pub square: f64,
    pub setback: f64,
    pub joint: f64,
}

impl BoardSizes {
    /// The width of a board, from the joint to the fore edge.
    pub fn width(&self, page: f64) -> f64 {
        page - self.setback + self.square
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Lamination {
    Uncoated,
    #[default]
    Matt,
    SoftTouch,
    Gloss,
}

impl Lamination {
    pub const WORDS: [(&'static str, Lamination); 4] = [
        ("uncoated", Lamination::Uncoated),
        ("matt", Lamination::Matt),
        ("soft-touch", Lamination::SoftTouch),
        ("gloss", Lamination::Gloss),
    ];
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum PaperShade {
    #[default]
    White,
    Cream,
}

impl PaperShade {
    pub const WORDS: [(&'static str, PaperShade); 2] = [("white", PaperShade::White), ("cream", PaperShade::Cream)];
}
