//! `rule`: a straight line, from side to side or, in a frame higher than wide, from top to bottom.
//!
//! ```kdl
//! rule divider { swatch black; weight 0.5; left safe; right safe; top 40 }
//! rule upright { swatch black; weight 1; dashes 2 1; left 20; top 30; bottom trim 30 }
//! ```
//!
//! The weight is the frame's other size, so that one direction needs no size. Lines in solid black under 1 mm overprint, as
//! small black letters do; `swatch black overprint=#false` knocks them out. The same goes for every `stroke`, for
//! shapes as narrow as that, and for the lines and shapes of drawings.

use crate::cover::{Bench, Draw, Natural, Open, Pen};
use crate::ground::{Cap, Ink, Line, MM_PER_PT, Path, Rect};
use crate::language::context::Context;
use crate::language::fillings::SWATCH;
use crate::language::headword::{Headword, Role, element};
use crate::language::look::LOOK;
use crate::language::named_ink::NamedInk;
use crate::language::place::PLACE;
use crate::scene::Kind;
use crate::source::{Reader, Word, choice, mm, pt, words_of};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("rule", "a straight line").holds(&[&[SWATCH, WEIGHT, DASHES, ENDS], PLACE, LOOK]),
    include_str!("rule.rs"),
    Role::Element(Kind::Shape, read),
);

/// In points. Common practice for a fine rule that still prints safely.
const USUAL_WEIGHT: f64 = 0.5;
/// Finer is no line on any press; broader is a band.
const WEIGHT: Word =
    Word::new("weight", "how broad the line is").takes(&[pt("a weight in points", 0.01, 1000.0)]).default("0.5");
const DASHES: Word =
    Word::new("dashes", "lengths of line and gap, in turn").takes(&[mm("a length in millimetres", 0.01, 1000.0).any()]);
const ENDS: Word = Word::new("ends", "the ends of the line or of its dashes")
    .takes(&[choice("ends", &words_of(&CAPS))])
    .default("butt");
const CAPS: [(&str, Cap); 3] = [("butt", Cap::Butt), ("round", Cap::Round), ("square", Cap::Square)];

struct Rule {
    ink: Ink,
    line: Line,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let weight = reader.child(&WEIGHT).and_then(|word| word.pt());
    let mut line = Line::new(weight.unwrap_or(USUAL_WEIGHT) * MM_PER_PT);
    let swatch = reader.child(&SWATCH).and_then(|word| NamedInk::read(&word, &context.facts.palette));
    let ink = swatch.unwrap_or_else(|| NamedInk::new(Ink::black(1.0))).line(line.width);
    if let Some(word) = reader.child(&DASHES) {
        while word.peek().is_some() {
            line.dashes.extend(word.mm());
        }
    }
    line.cap = reader.child(&ENDS).and_then(|word| word.choose(&CAPS)).unwrap_or(Cap::Butt);
    Some(Arc::new(Rule { ink, line }))
}

impl Draw for Rule {
    fn kind(&self) -> Kind {
        Kind::Shape
    }

    fn natural(&self, _room: Open, _bench: &Bench<'_>) -> Natural {
        Natural { width: Some(self.line.width), height: Some(self.line.width) }
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let centre = frame.center();
        let mut path = Path::new();
        if frame.width() >= frame.height() {
            path.move_to((frame.x0, centre.y));
            path.line_to((frame.x1, centre.y));
        } else {
            path.move_to((centre.x, frame.y0));
            path.line_to((centre.x, frame.y1));
        }
        pen.stroke(&path, self.line.clone(), self.ink.clone());
    }
}
