//! `qr-code`: a QR code, which phones read: an address as a rule, or other words.
//!
//! ```kdl
//! qr-code more words="https://lanternhouse.example/tides" { left safe; bottom safe; width 20 }
//! qr-code reverse words="{title}" { right safe; top safe; width 24; correction Q; swatch black; ground unprinted }
//! ```
//!
//! The symbol is the smallest one of ISO/IEC 18004 that holds the words, drawn as shapes in one ink. Facts stand in braces, as in a
//! text. Its frame is square and holds the quiet zone of four modules on each side; without a size, a module is 0.5 mm. Two edges
//! fix its place, one in each direction.
//!
//! - `correction`: how much of it may be damaged and still be read, as the standard numbers it: about 7 % for `L`, 15 %
//!   for `M`, 25 % for `Q`, 30 % for `H`. More correction makes a finer symbol.
//! - Short addresses make a coarse symbol, which is easier to read. A printed address cannot be changed: use one of a domain
//!   that stays with the house.
//! - The words are not looked up. Scan the proof.

use crate::cover::{Correction, Draw, QrCode, QrSymbol};
use crate::ground::Ink;
use crate::language::context::Context;
use crate::language::fillings::{GROUND, SWATCH, read_ground, read_ink};
use crate::language::headword::{Headword, Role, UNLESS, WHEN, element};
use crate::language::look::LOOK;
use crate::language::place::PLACE;
use crate::language::words::fill;
use crate::scene::Kind;
use crate::source::{Reader, Word, choice, text, words_of};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("qr-code", "a QR code of an address or other words").properties(&[WORDS, WHEN, UNLESS]).holds(&[
        &[CORRECTION, SWATCH, GROUND],
        PLACE,
        LOOK,
    ]),
    include_str!("qr_code.rs"),
    Role::Element(Kind::QrCode, read),
);

const WORDS: Word = Word::new("words", "what it says, with facts in braces").takes(&[text("words")]);
const CORRECTION: Word = Word::new("correction", "how much of it may be damaged and still be read")
    .takes(&[choice("a level", &words_of(&CORRECTIONS))])
    .default("M");
const CORRECTIONS: [(&str, Correction); 4] =
    [("L", Correction::Low), ("M", Correction::Medium), ("Q", Correction::Quartile), ("H", Correction::High)];

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let ink = read_ink(reader, &SWATCH, context).unwrap_or(Ink::black(1.0));
    let ground = read_ground(reader, context);
    let correction = reader.child(&CORRECTION).and_then(|word| word.choose(&CORRECTIONS));
    let Some(stated) = reader.text_property(&WORDS) else {
        if reader.property(&WORDS).is_none() {
            let help = "write `words=\"https://…\"`";
            reader.lacks(reader.span(), "this QR code has no words", help);
        }
        return None;
    };
    let place = &|_| stated.span;
    let words = fill(&mut reader.findings().borrow_mut(), &context.facts.book, &stated.value, place, false);
    if words.trim().is_empty() {
        reader.error(stated.span, "these words are empty", "write the address that it leads to");
        return None;
    }
    if !context.counts_letters(words.len(), stated.span) {
        return None;
    }
    let symbol = QrSymbol::of(&words, correction.unwrap_or(Correction::Medium));
    if symbol.is_none() {
        let message = format!("{} bytes are too many for a QR code with this correction", words.len());
        reader.error(stated.span, message, "shorten the words, or write `correction L`, which holds 2,953 bytes");
    }
    Some(Arc::new(QrCode { symbol: symbol?, ink, ground }))
}
