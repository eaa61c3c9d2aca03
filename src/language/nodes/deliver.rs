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
//! By default the press PDF has marks, and pictures have 200 pixels per inch; they may have 20 to 600. `jaconet explain
//! files` lists all outputs.

use crate::cover::Facts;
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::scene::OutputChoices;
use crate::source::{Laid, Reader, Slot, Takes, Word, number};

pub const HEADWORD: Headword = Headword::new(
    Word::new("deliver", "how the files are made").laid(Laid::Inside),
    include_str!("deliver.rs"),
    Role::Fact(read),
);

/// What each output may choose; the outputs themselves declare their names and choices.
const OUTPUT: Word = Word::new("output", "how one of the outputs is made").properties(&[PPI]);
const PPI: Word = Word::new("ppi", "pixels per inch").takes(&[number("pixels per inch", 20.0, 600.0)]);

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    for (name, choices) in desk.outputs.iter().filter(|(_, choices)| *choices != OutputChoices::NONE) {
        let Some(word) = reader.child_called(name, &OUTPUT) else { continue };
        let settings = facts.delivery.entry(name).or_insert_with(|| choices.usual());
        if !choices.words.is_empty()
            && let Some(chosen) = word.choice_of(Slot::new(choices.about, Takes::Choice(choices.words)))
        {
            settings.word = chosen.value;
        }
        if choices.ppi.is_none() {
            continue;
        }
        if let Some(ppi) = word.number_property(&PPI) {
            settings.ppi = ppi.value;
        } else if !word.attempts(PPI.name) {
            word.lacks(word.span(), format!("`{name}` lacks its resolution"), format!("write `{name} ppi=300`"));
        }
    }
}
