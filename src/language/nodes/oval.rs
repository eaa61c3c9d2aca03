//! `oval`: an ellipse in its frame; a circle in a square one.
//!
//! ```kdl
//! oval moon { swatch black percent=20; centre-x centre; width 40; top 30; height 40 }
//! ```
//!
//! `swatch`, `stroke` and `gradient` as for a `band`.

use crate::cover::{Bench, Draw, Natural, Open, Pen, oval};
use crate::ground::{FillRule, Rect};
use crate::language::{Context, Fillings, Node, Role};
use crate::scene::Kind;
use crate::source::Reader;
use std::sync::Arc;

pub const NODE: Node = Node { name: "oval", source: include_str!("oval.rs"), role: Role::Element(read) };

struct Oval {
    fillings: Fillings,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    Some(Arc::new(Oval { fillings: Fillings::read(reader, context) }))
}

impl Draw for Oval {
    fn kind(&self) -> Kind {
        Kind::Shape
    }

    fn natural(&self, room: Open, _bench: &Bench<'_>) -> Natural {
        // A single known side makes a circle.
        Natural { width: room.height.fixed(), height: room.width.fixed() }
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        self.fillings.draw(frame, &|inset| oval(frame.inset(-inset)), FillRule::NonZero, pen);
    }
}
