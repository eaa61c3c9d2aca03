//! Absent: an element that this book does without. It draws nothing and takes no room, but neighbours that measure from
//! it still find a place: where it would have begun.

use crate::cover::{Bench, Draw, Natural, Open, Pen};
use crate::ground::Rect;
use crate::scene::Kind;

pub struct Absent;

impl Draw for Absent {
    fn kind(&self) -> Kind {
        Kind::Shape
    }

    fn natural(&self, _room: Open, _bench: &Bench<'_>) -> Natural {
        Natural { width: Some(0.0), height: Some(0.0) }
    }

    fn draw(&self, _frame: Rect, _pen: &mut Pen<'_>) {}

    fn absent(&self) -> bool {
        true
    }
}
