//! Materials: what the finished book is made of, as far as pictures of it show.

use crate::cover::{Binding, Format, Spine, SpineShape};
use crate::ground::Ink;
use crate::scene::{BoardSizes, BookShape, CoverKind, Flaps, Lamination, PaperShade};

/// What a cover says of them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Materials {
    pub lamination: Lamination,
    pub shade: PaperShade,
    pub sprayed: Option<Ink>,
    /// One colour, or two that alternate.
    pub head_bands: Option<[Ink; 2]>,
    pub ribbon: Option<Ink>,
}

/// The shape of the finished book, from the same facts as its sheet. What is made for screens has none.
pub fn book_shape(format: &Format, spine: &Spine, materials: &Materials, bound_right: bool) -> Option<BookShape> {
    let board = &format.board;
    let boards =
        BoardSizes { thickness: board.thickness, square: board.square, setback: board.setback, joint: board.joint };
    let (stock, hinge) = (format.cover_stock, format.hinge);
    let cover = match format.binding {
        Binding::Paperback => CoverKind::Paperback { stock, hinge, flaps: None },
        Binding::FlappedPaperback => {
            CoverKind::Paperback { stock, hinge, flaps: Some(Flaps { width: format.flap, turn: format.growth }) }
        }
        Binding::Case => CoverKind::Case(boards),
        Binding::Jacket => {
            let turn = board.fore_edge.unwrap_or(board.thickness);
            CoverKind::Jacket(boards, Flaps { width: format.flap, turn })
        }
        Binding::Stapled => CoverKind::Stapled { stock },
        Binding::Screen(_) => return None,
    };
    Some(BookShape {
        cover,
        page: format.trim,
        block: spine.block,
        spine: spine.width,
        rounded: format.spine_shape != SpineShape::Flat,
        bound_right,
        lamination: materials.lamination,
        shade: materials.shade,
        sprayed: materials.sprayed.clone(),
        head_bands: materials.head_bands.clone().unwrap_or([Ink::PAPER, Ink::PAPER]),
        ribbon: materials.ribbon.clone(),
    })
}
