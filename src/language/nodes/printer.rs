//! `printer`: a file that says what the printer of this cover can do and asks for.
//!
//! ```kdl
//! printer "printers/quay.kdl"
//! ```
//!
//! The file states `press`, `limit` and `deliver`, and nothing else:
//!
//! ```text
//! press coated ink-limit=280
//! limit sheet-too-large width=707 height=500      // the largest sheet
//! limit spine-hard-to-bind warning=3              // the thinnest spine
//! limit finishing-detail line=0.4                 // the thinnest line of foil
//! limit bleed-short bleed=5
//! deliver { press bleed }                         // the files as this printer takes them
//! ```
//!
//! It is laid over the series and under the cover: the house's limits stand in the series, the printer's replace them, and
//! what the cover says itself holds. An edition may name another printer. A path counts from the folder of the file that
//! says it. Where the cover allows more than the printer does, or prints for another press, a note names both:
//! `limit-relaxed`.

use crate::cover::{Facts, PrinterAsks};
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::language::nodes::{deliver, limit, press};
use crate::source::{Reader, Tree, Word, text};
use std::cell::RefCell;

pub const HEADWORD: Headword = Headword::new(
    Word::new("printer", "a file with the limits, the press and the deliveries of this cover's printer")
        .takes(&[text("a path")]),
    include_str!("printer.rs"),
    Role::Holder,
);

/// What may stand in a printer's file.
pub const PRINTER_WORDS: [&str; 3] = [press::HEADWORD.word.name, limit::LIMIT.name, deliver::HEADWORD.word.name];

/// What a printer's file asks for. Its slips are reported where it is laid under the cover.
pub fn printer_asks(desk: &Desk<'_>, tree: &Tree, facts: &Facts) -> PrinterAsks {
    let scratch = RefCell::default();
    let desk = Desk { findings: &scratch, ..*desk };
    // Where the cover states no press of its own, the printer's is the one in force, and has been read.
    let in_force = facts.press.span;
    let press = tree.nodes.iter().find(|node| node.name.value == press::HEADWORD.word.name);
    let press = press.filter(|node| Reader::new(node, &press::HEADWORD.word, &scratch).span() != in_force);
    let percent = |word: &'static Word| {
        let reader = Reader::new(press?, &press::HEADWORD.word, &scratch);
        reader.skip();
        reader.percent_property(word)
    };
    let (ink_limit, limit_inks) = (percent(&press::INK_LIMIT), percent(&press::LIMIT_INKS));
    let condition = press.map(|node| {
        let mut facts = facts.clone();
        press::read(&Reader::new(node, &press::HEADWORD.word, &scratch), &mut facts, &desk);
        facts.press.profile.condition().to_owned()
    });
    PrinterAsks { limits: limit::stated_limits(&desk, tree), ink_limit, limit_inks, condition }
}
