//! Shapes: a book of each binding as a solid. Its spine is at x = 0 and its front looks towards us (y down), both on the
//! outside; it stands on z = 0. Millimetres.

mod case;
mod jacket;
mod leaves;
mod open;
mod paperback;
mod ribbon;
mod stapled;

use crate::scene::{BookShape, CoverKind, Pose};
use crate::view::solid::{Material, Solid};

pub use open::open;

/// A closed book as it is put down, its ribbon hanging as it falls.
pub fn closed_with_ribbon(shape: &BookShape, pose: Pose) -> Solid {
    let mut solid = closed(shape);
    if let (Some(_), CoverKind::Case(boards) | CoverKind::Jacket(boards, _)) = (&shape.ribbon, shape.cover) {
        let ribbon = ribbon::ribbon(shape, pose, boards.square as f32, solid.bounds().1.y);
        let ribbon = if shape.bound_right { ribbon.mirrored() } else { ribbon };
        solid.facets.extend(ribbon.facets);
    }
    solid
}

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
