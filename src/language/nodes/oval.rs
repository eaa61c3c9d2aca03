//! `oval`: an ellipse in its frame; a circle in a square one.
//!
//! ```kdl
//! oval moon { swatch black percent=20; centre-x centre; width 40; top 30; height 40 }
//! ```
//!
//! A radial gradient runs from its middle to its outline: `gradient lamp none radial=#true` is a glow without an edge.
//!
//! An oval has no size of its own: say where it begins and ends, or how wide and how high it is.

use crate::cover::{Bench, Draw, Natural, Open, Pen, oval};
use crate::ground::{FillRule, Path, Rect};
use crate::language::context::Context;
use crate::language::fillings::{FILLINGS, Fillings};
use crate::language::headword::{Headword, Role, element};
use crate::language::look::LOOK;
use crate::language::place::PLACE;
use crate::scene::Kind;
use crate::source::Reader;
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("oval", "an ellipse").holds(&[FILLINGS, PLACE, LOOK]),
    include_str!("oval.rs"),
    Role::Element(Kind::Shape, read),
);

struct Oval {
    fillings: Fillings,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    Some(Arc::new(Oval { fillings: Fillings::read(reader, context).in_oval() }))
}

impl Draw for Oval {
    fn kind(&self) -> Kind {
        Kind::Shape
    }

    fn natural(&self, room: Open, _bench: &Bench<'_>) -> Natural {
        // A single known side makes a circle.
        Natural { width: room.height.fixed(), height: room.width.fixed() }
    }

    fn contour(&self, frame: Rect) -> Option<Path> {
        Some(oval(frame))
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        self.fillings.draw(frame, &|inset| oval(frame.inset(-inset)), FillRule::NonZero, pen);
    }
}
