//! Shapes: a book of each binding as a solid. Its spine is at x = 0 and its front looks towards us (y down), both on the
//! outside; it stands on z = 0. Millimetres.

mod case;
mod jacket;
mod leaves;
mod open;
mod paperback;
mod stapled;

use crate::scene::{BookShape, CoverKind};
use crate::view::solid::{Material, Solid};

pub use open::open;

/// A closed book. Places on its sheet are millimetres from the middle of the spine, and from the head.
pub fn closed(shape: &BookShape) -> Solid {
    let solid = match shape.cover {
        CoverKind::Paperback { stock, hinge, flaps } => paperback::paperback(shape, stock as f32, hinge as f32, flaps),
        CoverKind::Stapled { stock } => stapled::stapled(shape, stock as f32),
        CoverKind::Case(boards) => case::case(shape, boards, Material::Sheet),
        CoverKind::Jacket(boards, flaps) => jacket::jacket(shape, boards, flaps),
    };
    if shape.bound_right { solid.mirrored() } else { solid }
}
