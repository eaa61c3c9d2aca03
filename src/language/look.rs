//! The words of look, taken off an element.

use crate::cover::{Clip, Look, Order};
use crate::ground::Blend;
use crate::language::percent;
use crate::source::Reader;

const PIVOTS: [(&str, (f64, f64)); 9] = [
    ("centre", (0.5, 0.5)),
    ("top-left", (0.0, 0.0)),
    ("top", (0.5, 0.0)),
    ("top-right", (1.0, 0.0)),
    ("left", (0.0, 0.5)),
    ("right", (1.0, 0.5)),
    ("bottom-left", (0.0, 1.0)),
    ("bottom", (0.5, 1.0)),
    ("bottom-right", (1.0, 1.0)),
];

/// Takes the words of look off an element.
pub fn read_look(reader: &Reader<'_>) -> Look {
    let mut look = Look::default();
    if let Some(word) = reader.child("turn") {
        look.turn = word.number("degrees clockwise").map_or(0.0, |turn| turn.value % 360.0);
        if let Some(pivot) = word.word_property("from", &PIVOTS.map(|(name, _)| name)) {
            look.pivot = PIVOTS.iter().find(|(name, _)| *name == pivot.value).map_or((0.5, 0.5), |(_, at)| *at);
        }
    }
    if let Some(word) = reader.child("opacity") {
        look.opacity = percent(&word).unwrap_or(1.0);
    }
    if let Some(word) = reader.child("blend") {
        let mode = word.word("a way to mix", &["normal", "multiply"]);
        look.blend = if mode.is_some_and(|mode| mode.value == "multiply") { Blend::Multiply } else { Blend::Normal };
    }
    if let Some(word) = reader.child("clip") {
        let shape = word.word("a shape to cut to", &["frame", "oval"]);
        look.clip = shape.map(|shape| if shape.value == "oval" { Clip::Oval } else { Clip::Frame });
    }
    let under = reader.child("under").and_then(|word| word.text("an element's name")).map(Order::Under);
    let over = reader.child("over").and_then(|word| word.text("an element's name")).map(Order::Over);
    if let (Some(_), Some(Order::Over(name))) = (&under, &over) {
        reader.error(name.span, "both `under` and `over` are said", "keep one of the two");
    }
    look.order = under.or(over);
    look
}
