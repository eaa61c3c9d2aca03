//! `rule`: a straight line, from side to side or, in a frame higher than wide, from top to bottom.
//!
//! ```kdl
//! rule divider { swatch black; weight 0.5; left safe; right safe; top 40 }
//! rule upright { swatch black; weight 1; dashes 2 1; left 20; top 30; bottom trim 30 }
//! ```
//!
//! - `swatch NAME percent= overprint=`: the ink. `weight N`: points, 0.5 without a word.
//! - `dashes ON OFF`: millimetres. `ends butt|round|square`.
//! - The weight is the frame's other size, so it need not be said.

use crate::cover::{Bench, Draw, Natural, Open, Pen};
use crate::ground::{Cap, Ink, Line, MM_PER_PT, Path, Rect};
use crate::language::{Context, Node, Role, ranged_length, read_ink};
use crate::scene::Kind;
use crate::source::{Reader, Unit};
use std::sync::Arc;

pub const NODE: Node = Node { name: "rule", source: include_str!("rule.rs"), role: Role::Element(read) };

struct Rule {
    ink: Ink,
    line: Line,
}

/// In points. Common practice for a fine rule that still prints safely.
const USUAL_WEIGHT: f64 = 0.5;
/// Finer is no line on any press; broader is a band.
const LEAST_WEIGHT: f64 = 0.01;
const MOST_WEIGHT: f64 = 1000.0;
/// In millimetres.
const LEAST_DASH: f64 = 0.01;

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let ink = read_ink(reader, "swatch", context).unwrap_or(Ink::black(1.0));
    let weight = reader.child("weight").and_then(|word| {
        ranged_length(&word, word.length("a weight in points", Unit::Pt), Unit::Pt, LEAST_WEIGHT, MOST_WEIGHT)
    });
    let mut line = Line::new(weight.unwrap_or(USUAL_WEIGHT) * MM_PER_PT);
    if let Some(word) = reader.child("dashes") {
        while word.peek().is_some() {
            let dash = word.length("millimetres", Unit::Mm);
            line.dashes.extend(ranged_length(&word, dash, Unit::Mm, LEAST_DASH, 1000.0));
        }
    }
    if let Some(ends) = reader.child("ends").and_then(|word| word.word("ends", &["butt", "round", "square"])) {
        line.cap = match ends.value {
            "round" => Cap::Round,
            "square" => Cap::Square,
            _ => Cap::Butt,
        };
    }
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
