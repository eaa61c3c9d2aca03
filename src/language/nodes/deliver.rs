//! `deliver`: how the files are made.
//!
//! ```kdl
//! deliver {
//!     press marks                         // marks | bleed | trim: what stands around the trim
//!     flat ppi=200                        // the flat picture
//!     panels ppi=300                      // one picture per panel
//!     marked ppi=100                      // the flat picture with every error framed
//! }
//! ```
//!
//! By default the press PDF has marks, and pictures have 200 pixels per inch; they may have 20 to 600. `jaconet explain
//! files` lists all outputs.

use crate::cover::Facts;
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::scene::OutputSettings;
use crate::source::{Laid, Reader, Takes, Word};

/// What stands inside it are the words of the outputs, which each output declares.
pub const HEADWORD: Headword = Headword::new(
    Word::new("deliver", "how the files are made").laid(Laid::Inside),
    include_str!("deliver.rs"),
    Role::Fact(read),
);

const PPI: &str = "ppi";

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    for output in desk.outputs.iter().filter(|word| !word.takes.is_empty() || !word.properties.is_empty()) {
        let Some(word) = reader.child(output) else { continue };
        let settings = facts.delivery.entry(output.name).or_insert_with(|| usual_settings(output));
        if !output.takes.is_empty()
            && let Some(chosen) = word.choice()
        {
            settings.word = chosen.value;
        }
        let Some(resolution) = output.property(PPI) else { continue };
        if let Some(ppi) = word.number_property(resolution) {
            settings.ppi = ppi.value;
        } else if !word.attempts(PPI) {
            let name = output.name;
            word.lacks(word.span(), format!("`{name}` lacks its resolution"), format!("write `{name} ppi=300`"));
        }
    }
}

/// How an output is made where no cover says otherwise: by the defaults of its word.
pub fn usual_settings(output: &Word) -> OutputSettings {
    let word = match output.takes.first().map(|slot| slot.takes) {
        Some(Takes::Choice(_)) => output.default.unwrap_or_default(),
        _ => "",
    };
    let ppi = output.property(PPI).and_then(|word| word.default?.parse().ok());
    OutputSettings { word, ppi: ppi.unwrap_or_default() }
}
