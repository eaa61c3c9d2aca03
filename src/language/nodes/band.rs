//! `band`: a rectangle of colour, running into the bleed where its frame does.
//!
//! ```kdl
//! band ribbon { swatch black; left fold; right bleed; top 60; height 30 }
//! band plate { gradient black paper angle=90; left safe; right safe; bottom safe; height 20; radius 3 }
//! ```
//!
//! - `swatch NAME percent= overprint=`: the fill. `stroke NAME weight=`: a line around, in points, inside the frame.
//! - `gradient FROM TO angle=`: from swatch to swatch; 0 runs to the right, 90 downwards. `gradient FROM TO radial=#true`
//!   runs from the centre. Further swatches are stops in between: `gradient night sea lamp`.
//! - `radius N`: rounded corners.

use crate::cover::{Bench, Draw, Natural, Open, Pen};
use crate::ground::{FillRule, Rect, RoundedRect, Shape, TOLERANCE};
use crate::language::{Context, Fillings, Node, Role, ranged_length};
use crate::scene::Kind;
use crate::source::{Reader, Unit};
use std::sync::Arc;

pub const NODE: Node = Node { name: "band", source: include_str!("band.rs"), role: Role::Element(read) };

struct Band {
    fillings: Fillings,
    radius: f64,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let fillings = Fillings::read(reader, context);
    let radius = reader
        .child("radius")
        .and_then(|word| ranged_length(&word, word.length("a radius", Unit::Mm), Unit::Mm, 0.0, 1000.0));
    Some(Arc::new(Band { fillings, radius: radius.unwrap_or(0.0) }))
}

impl Draw for Band {
    fn kind(&self) -> Kind {
        Kind::Shape
    }

    fn natural(&self, _room: Open, _bench: &Bench<'_>) -> Natural {
        Natural::default()
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let rounded = |inset: f64| {
            let rect = frame.inset(-inset);
            let radius = (self.radius - inset).max(0.0).min(rect.width() / 2.0).min(rect.height() / 2.0);
            if radius > 0.0 { RoundedRect::from_rect(rect, radius).to_path(TOLERANCE) } else { rect.to_path(TOLERANCE) }
        };
        self.fillings.draw(frame, &rounded, FillRule::NonZero, pen);
    }
}
