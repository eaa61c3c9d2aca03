//! Changes for eyes: one a line, aligned; a short list says itself.

use crate::compare::change::{Change, Changes};
use std::fmt::Write as _;

/// A place longer than this gets its sentence on a line of its own column, unaligned.
const WIDEST: usize = 34;

/// `one → other: 3 changes` and a line each; `one → other: nothing changed`.
pub fn in_words(title: &str, changes: &Changes) -> String {
    let number = match changes.0.len() {
        0 => "nothing changed".to_owned(),
        1 => "1 change".to_owned(),
        more => format!("{more} changes"),
    };
    let mut out = format!("{title}: {number}\n");
    let length = |text: &str| text.chars().count();
    let topics = changes.0.iter().map(|change| length(change.topic.word())).max().unwrap_or(0);
    let places = changes.0.iter().map(|change| length(&change.place)).filter(|wide| *wide <= WIDEST).max().unwrap_or(0);
    let mut last: Option<&Change> = None;
    for change in &changes.0 {
        let same = last.is_some_and(|last| last.topic == change.topic);
        let topic = if same { "" } else { change.topic.word() };
        writeln!(out, "  {topic:topics$}  {:places$}  {}", change.place, change.says)
            .expect("a string takes every line");
        last = Some(change);
    }
    out
}

/// Millimetres to a hundredth.
pub fn decimal(value: f64) -> String {
    let text = format!("{value:.2}");
    if text == "-0.00" { "0.00".to_owned() } else { text }
}

/// `a, b and c`.
pub fn list(names: impl Iterator<Item = String>) -> String {
    let names: Vec<String> = names.collect();
    match &names[..] {
        [rest @ .., last] if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => names.concat(),
    }
}
