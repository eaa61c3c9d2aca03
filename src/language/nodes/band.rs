//! `band`: a rectangle of colour, running into the bleed where its frame does.
//!
//! ```kdl
//! band ribbon { swatch black; left fold; right bleed; top 60; height 30 }
//! band plate { gradient black unprinted angle=90; left safe; right safe; bottom safe; height 20; radius 3 }
//! band dusk { gradient none black; left fold; right bleed; bottom bleed; height 60 }
//! ```
//!
//! It is filled with a `swatch` or a `gradient`, or outlined with a `stroke`; it may be both. A gradient that names `none` fades
//! to nothing there, and what lies under it shows: so a photograph is darkened under a title. A band
//! in solid black that is under 1 mm broad overprints, as a `rule` does.

use crate::cover::{Bench, Draw, Natural, Open, Pen};
use crate::ground::{FillRule, Rect, RoundedRect, Shape, TOLERANCE};
use crate::language::context::Context;
use crate::language::fillings::{FILLINGS, Fillings};
use crate::language::headword::{Headword, Role, element};
use crate::language::look::LOOK;
use crate::language::place::PLACE;
use crate::scene::Kind;
use crate::source::{Reader, Word, mm};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("band", "a rectangle of colour").holds(&[&[RADIUS], FILLINGS, PLACE, LOOK]),
    include_str!("band.rs"),
    Role::Element(Kind::Shape, read),
);

const RADIUS: Word = Word::new("radius", "rounded corners").takes(&[mm("a radius", 0.0, 1000.0)]).default("0");

struct Band {
    fillings: Fillings,
    radius: f64,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let fillings = Fillings::read(reader, context);
    let radius = reader.child(&RADIUS).and_then(|word| word.mm());
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
