//! `deliver`: how the files are made.
//!
//! ```kdl
//! deliver {
//!     press marks                         // marks | bleed | trim: what stands around the trim
//!     flat ppi=200                        // the flat picture
//!     panels ppi=300                      // one picture per panel
//! }
//! ```
//!
//! Where nothing is said, the press PDF has marks, and pictures have 200 pixels per inch. `jaconet explain files` lists
//! all outputs.

use crate::cover::Facts;
use crate::ground::number;
use crate::language::{Desk, Node, Role};
use crate::scene::{OutputChoices, OutputSettings};
use crate::source::Reader;

pub const NODE: Node = Node { name: "deliver", source: include_str!("deliver.rs"), role: Role::Fact(read) };

/// Pixels per inch that a picture may have.
const PPI: std::ops::RangeInclusive<f64> = 20.0..=600.0;

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    for (name, choices) in desk.outputs.iter().filter(|(_, choices)| *choices != OutputChoices::NONE) {
        let Some(word) = reader.child(name) else { continue };
        let settings = facts.delivery.entry(name).or_insert_with(|| choices.usual());
        if !choices.words.is_empty()
            && let Some(chosen) = word.word(choices.about, choices.words)
        {
            settings.word = chosen.value;
        }
        if choices.ppi.is_some() {
            resolution(&word, name, settings);
        }
    }
}

fn resolution(word: &Reader<'_>, name: &str, settings: &mut OutputSettings) {
    let Some(ppi) = word.number_property("ppi") else {
        word.error(word.span(), format!("`{name}` lacks its resolution"), format!("write `{name} ppi=300`"));
        return;
    };
    if PPI.contains(&ppi.value) {
        settings.ppi = ppi.value;
    } else {
        let message = format!("{} pixels per inch are out of range", number(ppi.value));
        word.error(ppi.span, message, "write a number from 20 to 600");
    }
}
