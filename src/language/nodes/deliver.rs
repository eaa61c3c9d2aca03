//! `deliver`: how the files are made.
//!
//! ```kdl
//! deliver {
//!     press marks                         // marks | bleed | trim: what stands around the trim
//!     flat ppi=200                        // the flat mock-up
//!     panels ppi=300                      // one picture a panel
//! }
//! ```
//!
//! Without a word: a press PDF with marks, the flat and the panels at 200 pixels per inch, and a report.

use crate::cover::{Facts, Surround};
use crate::ground::number;
use crate::language::{Desk, Node, Role};
use crate::source::Reader;

pub const NODE: Node = Node { name: "deliver", source: include_str!("deliver.rs"), role: Role::Fact(read) };

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    if let Some(word) = reader.child("press")
        && let Some(surround) = word.word("what stands around the trim", &["marks", "bleed", "trim"])
    {
        facts.deliver.surround = match surround.value {
            "bleed" => Surround::Bleed,
            "trim" => Surround::Trim,
            _ => Surround::Marks,
        };
    }
    for (name, slot) in [("flat", &mut facts.deliver.flat_ppi), ("panels", &mut facts.deliver.panel_ppi)] {
        let Some(word) = reader.child(name) else { continue };
        let Some(ppi) = word.number_property("ppi") else {
            word.error(word.span(), format!("`{name}` lacks its resolution"), format!("write `{name} ppi=300`"));
            continue;
        };
        if (20.0..=600.0).contains(&ppi.value) {
            *slot = ppi.value;
        } else {
            let message = format!("{} pixels per inch are out of range", number(ppi.value));
            word.error(ppi.span, message, "write a number from 20 to 600");
        }
    }
}
