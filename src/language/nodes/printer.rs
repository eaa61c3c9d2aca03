//! `printer`: a file that says what the printer of this cover can do and asks for.
//!
//! ```kdl
//! printer "printers/quay.kdl"
//! ```
//!
//! The file states `press` and `limit`, and nothing else:
//!
//! ```text
//! press coated ink-limit=280
//! limit sheet-too-large width=707 height=500      // the largest sheet
//! limit spine-hard-to-bind warning=3              // the thinnest spine
//! limit hairline delicate=(mm)0.3                 // the thinnest line of foil
//! limit bleed-short bleed=5
//! ```
//!
//! It is laid over the series and under the cover: the house's limits stand in the series, the printer's replace them, and
//! what the cover says itself holds. An edition may name another printer. A path counts from the folder of the file that
//! says it.

use crate::language::headword::{Headword, Role};
use crate::language::nodes::{limit, press};
use crate::source::{Word, text};

pub const HEADWORD: Headword = Headword::new(
    Word::new("printer", "a file with the limits and the press of this cover's printer").takes(&[text("a path")]),
    include_str!("printer.rs"),
    Role::Holder,
);

/// What may stand in a printer's file.
pub const PRINTER_WORDS: [&str; 2] = [press::HEADWORD.word.name, limit::LIMIT.name];
