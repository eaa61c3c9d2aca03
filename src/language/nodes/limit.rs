//! `limit`: a number that a rule of the check measures against, where another one than the usual holds.
//!
//! ```kdl
//! limit outside-safe error=4              // this house keeps words 4 mm from the trim
//! limit effective-resolution warning=250 error=200
//! ```
//!
//! Which limits a rule has, with their usual values and sources, stands on the page of the rule and in the table of all
//! limits, `docs/rules/limits.md`. `jaconet explain outside-safe cover.kdl` shows the limits in force for a cover, and where
//! each was set.
//!
//! - A house states its limits in the file that all its covers name as their `series`. A printer's limits stand in the file
//!   that a cover names by `printer`. What the cover itself says comes last and holds; where it allows more than the printer
//!   does, a note names both numbers: `limit-relaxed`.
//! - Where several files state limits of one rule, they are merged one by one.
//! - Lengths are millimetres, or points where the rule measures type and lines; shares are percent.

use crate::cover::{Facts, StatedLimits};
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::source::{KnownBy, Laid, Reader, Takes, Tree, Unit, Word, name, offer};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(LIMIT, include_str!("limit.rs"), Role::Fact(read));

pub const LIMIT: Word = Word::new("limit", "numbers that a rule of the check measures against")
    .takes(&[name("a rule with limits, such as outside-safe")])
    .known_by(KnownBy::Name)
    .laid(Laid::Inside);

/// Every limit that a tree states.
pub fn stated_limits(desk: &Desk<'_>, tree: &Tree) -> StatedLimits {
    let mut limits = StatedLimits::default();
    for node in tree.nodes.iter().filter(|node| node.name.value == LIMIT.name) {
        state(&Reader::new(node, &LIMIT, desk.findings), &mut limits, desk);
    }
    limits
}

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    state(reader, Arc::make_mut(&mut facts.limits), desk);
}

fn state(reader: &Reader<'_>, limits: &mut StatedLimits, desk: &Desk<'_>) {
    let Some(rule) = reader.text() else { return };
    let Some((_, words)) = desk.rules.iter().find(|(name, _)| *name == rule.value) else {
        let known: Vec<&str> = desk.rules.iter().map(|(name, _)| *name).collect();
        let message = format!("there is no rule `{}` with limits", rule.value);
        reader.error(rule.span, message, offer(&rule.value, &known));
        return reader.skip();
    };
    for word in words {
        let Some((value, slot, whose)) = reader.property_slot(word) else { continue };
        let number = match slot.takes {
            Takes::Percent(..) => reader.as_percent(value, slot, &whose),
            Takes::Length(Unit::Pt, ..) => reader.as_length(value, slot, &whose).map(|length| length.value.pt()),
            Takes::Length(Unit::Mm, ..) => reader.as_length(value, slot, &whose).map(|length| length.value.mm()),
            _ => reader.as_number(value, slot, &whose).map(|number| number.value),
        };
        if let Some(number) = number {
            limits.state(&rule.value, word.name, number, value.span);
        }
    }
    if reader.node.properties.is_empty() {
        let first = words.first().map_or("…", |word| word.name);
        let help = format!("write `limit {} {first}=…`", rule.value);
        reader.error(rule.span, "this states no limit", help);
    }
}
