//! Exam: a finished cover laid out for questions.

use crate::assets::Darkroom;
use crate::check::piece::{Piece, Shown, pieces, shown};
use crate::cover::{Cover, Facts};
use crate::ground::Rect;
use crate::scene::{Kind, Scene, Sheet};

pub struct Exam<'a> {
    pub cover: &'a Cover,
    pub scene: &'a Scene,
    pub darkroom: &'a Darkroom,
    /// Every mark that is no group, bottom to top.
    pub marks: Vec<Shown<'a>>,
    /// The same, element by element.
    pub pieces: Vec<Piece<'a>>,
}

impl<'a> Exam<'a> {
    pub fn new(cover: &'a Cover, scene: &'a Scene, darkroom: &'a Darkroom) -> Exam<'a> {
        let marks = shown(&scene.items);
        let pieces = pieces(&marks);
        Exam { cover, scene, darkroom, marks, pieces }
    }

    pub fn facts(&self) -> &'a Facts {
        &self.cover.facts
    }

    pub fn sheet(&self) -> &'a Sheet {
        &self.scene.sheet
    }

    pub fn of(&self, kind: Kind) -> impl Iterator<Item = &Piece<'a>> {
        self.pieces.iter().filter(move |piece| piece.is(kind))
    }

    /// Words whose middle lies on the spine and that are not wider than a title across the whole wrap would be.
    pub fn spine_words(&self) -> impl Iterator<Item = &Piece<'a>> {
        self.of(Kind::Text).filter(|piece| piece.origin.panel == "spine")
    }

    /// Pictures and drawings that end within the trim: marks, emblems, portraits.
    pub fn is_live(&self, piece: &Piece<'_>) -> bool {
        match piece.origin.kind {
            Kind::Text | Kind::BarCode => true,
            Kind::Picture => !reaches(piece.bounds, self.sheet().bleed),
            Kind::Shape => false,
        }
    }
}

/// Whether a rectangle touches an edge of the bleed, or lies over it.
fn reaches(bounds: Rect, bleed: Rect) -> bool {
    bounds.x0 <= bleed.x0 + TOUCH
        || bounds.x1 >= bleed.x1 - TOUCH
        || bounds.y0 <= bleed.y0 + TOUCH
        || bounds.y1 >= bleed.y1 - TOUCH
}

/// Millimetres that count as none.
pub const TOUCH: f64 = 0.02;

/// The four sides of a rectangle, by the name a cover gives them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Left,
    Right,
    Head,
    Foot,
}

impl Side {
    pub const ALL: [Side; 4] = [Side::Left, Side::Right, Side::Head, Side::Foot];

    pub fn word(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
            Side::Head => "head",
            Side::Foot => "foot",
        }
    }

    /// How far `inner` keeps inside `outer` on this side; negative when it reaches out.
    pub fn gap(self, inner: Rect, outer: Rect) -> f64 {
        match self {
            Side::Left => inner.x0 - outer.x0,
            Side::Right => outer.x1 - inner.x1,
            Side::Head => inner.y0 - outer.y0,
            Side::Foot => outer.y1 - inner.y1,
        }
    }
}
