//! `rights`: under which rights pictures, fonts and quotations are used.
//!
//! ```kdl
//! rights {
//!     picture "art/lantern.svg" licence="letter of 2026-01-12" credit="Drawing: Ina Velt" until="2031-12-31"
//!     picture "art/mark.svg" source="Osselby Archive" territory="GB IE"
//!     font "EB Garamond" licence="OFL 1.1"
//!     quote 1 source="The Osselby Review" licence="review copy"
//!     sold-in GB IE
//!     require picture licence credit          // what every picture on the cover must state
//! }
//! panel back { text credits words="{credits}" { left safe; bottom safe; size 7; width 60 } }
//! ```
//!
//! - A picture is named by its path or the end of it, a font by its family, a quotation by its number: `{quote.2}` is 2.
//! - All credits, each once and in the order stated, are the fact `{credits}`.
//! - `territory` lists country codes (ISO 3166), or says `world`; `sold-in` where the book will be sold.
//! - `until` is the last day of the right. It is held against the date of the `version`, not against the calendar.
//! - `require` stands in the file of a house or a series, so that every cover answers it: `picture`, `font` or `quote`, then
//!   `source`, `licence`, `credit`, `territory` or `until`.
//!
//! What is missing, out of date or does not reach is reported by the rule `rights-missing`.

use crate::cover::{Facts, Licensed, RequiredRight, Right, RightPart, Rights};
use crate::ground::Spanned;
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::language::nodes::book::{DATE_HELP, is_date};
use crate::source::{KnownBy, Laid, Reader, Word, choice, name, text, whole, words_of};

pub const HEADWORD: Headword = Headword::new(
    Word::new("rights", "under which rights pictures, fonts and quotations are used")
        .holds(&[&[PICTURE, FONT, QUOTE, SOLD_IN, REQUIRE]])
        .laid(Laid::Inside),
    include_str!("rights.rs"),
    Role::Fact(read),
);

const PARTS: &[Word] = &[SOURCE, LICENCE, CREDIT, TERRITORY, UNTIL];
const PICTURE: Word = Word::new("picture", "a picture or drawing")
    .takes(&[name("a path, or the end of one")])
    .properties(PARTS)
    .known_by(KnownBy::Name);
const FONT: Word = Word::new("font", "a font").takes(&[name("a family")]).properties(PARTS).known_by(KnownBy::Name);
const QUOTE: Word =
    Word::new("quote", "a quotation of the book").takes(&[whole("its number", 1.0, 1000.0)]).properties(PARTS).many();
const SOURCE: Word = Word::new("source", "whom it comes from").takes(&[text("a name")]);
const LICENCE: Word = Word::new("licence", "what allows its use").takes(&[text("a licence or an agreement")]);
const CREDIT: Word = Word::new("credit", "the line that names the maker").takes(&[text("a line")]);
const TERRITORY: Word = Word::new("territory", "where it may be sold: `world`, or country codes")
    .takes(&[name("codes, such as \"GB IE\"")]);
const UNTIL: Word = Word::new("until", "the last day, as YYYY-MM-DD").takes(&[text("a date")]);
const SOLD_IN: Word =
    Word::new("sold-in", "where the book will be sold").takes(&[name("a country code, such as GB").any()]);
const REQUIRE: Word = Word::new("require", "what every picture, font or quotation of the cover must state")
    .takes(&[choice("a kind", &words_of(&Licensed::WORDS)), choice("a part", &words_of(&RightPart::WORDS)).any()])
    .known_by(KnownBy::Name);

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    let mut rights = Rights::default();
    for (word, of) in [(&PICTURE, Licensed::Picture), (&FONT, Licensed::Font), (&QUOTE, Licensed::Quote)] {
        for node in reader.children(word) {
            let name = match of {
                Licensed::Quote => node.number().map(|at| Spanned::new(crate::ground::number(at.value), at.span)),
                _ => node.text(),
            };
            let stated = |part| node.text_property(part).map(|stated| stated.value);
            let (source, licence, credit) = (stated(&SOURCE), stated(&LICENCE), stated(&CREDIT));
            let (territory, until) = (node.text_property(&TERRITORY), day(&node, &UNTIL));
            if let Some(name) = name {
                rights.all.push(Right { of, name, source, licence, credit, territory, until });
            }
        }
    }
    if let Some(word) = reader.child(&SOLD_IN) {
        while word.peek().is_some() {
            rights.sold_in.extend(word.text());
        }
    }
    for word in reader.children(&REQUIRE) {
        let Some(of) = word.choose(&Licensed::WORDS) else { continue };
        while word.peek().is_some() {
            rights.required.extend(word.choose(&RightPart::WORDS).map(|part| RequiredRight { of, part }));
        }
    }
    let mut credits: Vec<&str> = Vec::new();
    for credit in rights.all.iter().filter_map(|right| right.credit.as_deref()) {
        if !credits.contains(&credit) {
            credits.push(credit);
        }
    }
    if !credits.is_empty() {
        facts.book.words.insert("credits".to_owned(), Spanned::new(credits.join("; "), reader.span()));
    }
    facts.rights = rights;
}

/// A day that a property states.
fn day(node: &Reader<'_>, word: &'static Word) -> Option<Spanned<String>> {
    let day = node.text_property(word)?;
    if is_date(&day.value) {
        return Some(day);
    }
    node.error(day.span, format!("{:?} is not a day of the calendar", day.value), DATE_HELP);
    None
}
