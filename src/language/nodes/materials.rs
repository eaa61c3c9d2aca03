//! `materials`: what the finished book is made of, for pictures of the book as it stands.
//!
//! ```kdl
//! materials {
//!     lamination soft-touch               // uncoated | matt | soft-touch | gloss
//!     block-paper cream                   // white | cream
//!     sprayed-edges black                 // a swatch on the edges of the leaves
//!     head-bands black unprinted          // one swatch, or two that alternate
//!     ribbon black                        // a marker between the leaves
//! }
//! ```
//!
//! They change nothing on the press sheet: tell your printer what you want. By default the cover has a matt lamination, and
//! leaves and head bands are white. Only a book with boards has head bands and a ribbon.
//!
//! The ribbon, 6 mm wide, hangs out of the fore edge near the foot of a book that stands, and over the foot of one that lies,
//! near its spine. Pictures of several books leave it out.

use crate::cover::{Binding, Facts};
use crate::ground::{Finding, Severity};
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::scene::{Lamination, PaperShade};
use crate::source::{Laid, Reader, Word, choice, name, words_of};

pub const HEADWORD: Headword = Headword::new(
    Word::new("materials", "what the finished book is made of")
        .holds(&[&[LAMINATION, BLOCK_PAPER, SPRAYED_EDGES, HEAD_BANDS, RIBBON]])
        .laid(Laid::Inside),
    include_str!("materials.rs"),
    Role::Fact(read),
);

const LAMINATION: Word = Word::new("lamination", "how the cover shines")
    .takes(&[choice("a lamination", &words_of(&Lamination::WORDS))])
    .default("matt");
const BLOCK_PAPER: Word = Word::new("block-paper", "the colour of the paper inside")
    .takes(&[choice("a shade", &words_of(&PaperShade::WORDS))])
    .default("white");
const SPRAYED_EDGES: Word =
    Word::new("sprayed-edges", "a colour on the edges of the leaves").takes(&[name("a swatch")]);
const HEAD_BANDS: Word = Word::new("head-bands", "the bands at both ends of the spine of a book with boards")
    .takes(&[name("a swatch"), name("a second swatch").perhaps()])
    .default("unprinted");
const RIBBON: Word =
    Word::new("ribbon", "a marker between the leaves of a book with boards").takes(&[name("a swatch")]);

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    let mut materials = facts.materials.clone();
    if let Some(word) = reader.child(&LAMINATION) {
        materials.lamination = word.choose(&Lamination::WORDS).unwrap_or_default();
    }
    if let Some(word) = reader.child(&BLOCK_PAPER) {
        materials.shade = word.choose(&PaperShade::WORDS).unwrap_or_default();
    }
    let swatch = |word: &Reader<'_>| {
        let name = word.text()?;
        Some(facts.palette.ink(&mut word.findings().borrow_mut(), &name))
    };
    materials.sprayed = reader.child(&SPRAYED_EDGES).and_then(|word| swatch(&word));
    materials.head_bands = reader.child(&HEAD_BANDS).and_then(|word| {
        let first = swatch(&word)?;
        let second = if word.peek().is_some() { swatch(&word) } else { None };
        Some([first.clone(), second.unwrap_or(first)])
    });
    if let Some(word) = reader.child(&RIBBON) {
        materials.ribbon = swatch(&word);
        if !matches!(facts.format.binding, Binding::Case | Binding::Jacket) {
            let message =
                format!("a ribbon is glued in before the boards, and `{}` has none", facts.format.binding.word());
            let finding = Finding::new(Severity::Note, "language", word.span(), message);
            let help = "leave the ribbon out, or bind the book in boards: `format case` or `format jacket`";
            word.findings().borrow_mut().push(finding.help(help));
        }
    }
    facts.materials = materials;
}
