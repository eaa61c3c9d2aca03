//! The words of the language that have a page of their own, one file each. A file's head is its manual page.

use crate::language::headword::{Headword, Role};
use crate::source::{Besides, Word};

pub mod approved;
mod band;
mod barcode;
pub mod book;
pub mod deliver;
mod each;
mod edition;
pub mod format;
mod ground;
mod group;
pub mod image;
mod keyline;
mod levels;
pub mod limit;
mod materials;
mod must_say;
mod oval;
pub mod panel;
pub mod part;
mod path;
mod press;
pub mod printer;
mod qr_code;
pub mod rights;
mod rule;
mod series;
mod stack;
pub mod style;
pub mod swatches;
pub mod text;
mod view;
pub mod waive;
mod word_list;

/// In the order in which facts are read: each finds those before it ready.
pub const HEADWORDS: &[&Headword] = &[
    &book::HEADWORD,
    &format::HEADWORD,
    &press::HEADWORD,
    &swatches::HEADWORD,
    &style::HEADWORD,
    &levels::HEADWORD,
    &materials::HEADWORD,
    &keyline::HEADWORD,
    &rights::HEADWORD,
    &view::HEADWORD,
    &deliver::HEADWORD,
    &limit::HEADWORD,
    &must_say::HEADWORD,
    &word_list::HEADWORD,
    &series::HEADWORD,
    &printer::HEADWORD,
    &edition::HEADWORD,
    &panel::HEADWORD,
    &part::HEADWORD,
    &text::HEADWORD,
    &image::HEADWORD,
    &barcode::HEADWORD,
    &qr_code::HEADWORD,
    &ground::HEADWORD,
    &band::HEADWORD,
    &rule::HEADWORD,
    &oval::HEADWORD,
    &path::HEADWORD,
    &group::HEADWORD,
    &stack::HEADWORD,
    &each::HEADWORD,
    &waive::HEADWORD,
    &approved::HEADWORD,
];

/// What says which trees lie over and under a cover; nothing is left of them when it is read.
pub const LAYER_WORDS: [&str; 3] =
    [series::HEADWORD.word.name, printer::HEADWORD.word.name, edition::HEADWORD.word.name];

/// The headwords that may stand in a panel.
pub fn elements() -> impl Iterator<Item = &'static &'static Headword> {
    HEADWORDS.iter().filter(|headword| matches!(headword.role, Role::Element(..)))
}

/// Everything that may stand in a panel, `use` included.
pub fn element_words() -> impl Iterator<Item = &'static Word> {
    elements().map(|headword| &headword.word).chain([&part::USE])
}

/// Everything that may stand at the top of a cover, `wrap` included.
pub fn top_words() -> impl Iterator<Item = &'static Word> {
    let tops = HEADWORDS.iter().filter(|headword| !matches!(headword.role, Role::Element(..)));
    tops.map(|headword| &headword.word).chain([&panel::WRAP])
}

/// The words that may stand inside another, or at the top of a file.
pub fn words_inside(around: Option<&'static Word>) -> impl Iterator<Item = &'static Word> {
    let besides = around.map_or(Besides::Everything, |word| word.besides);
    let elements = (besides == Besides::Elements).then(element_words).into_iter().flatten();
    let tops = (besides == Besides::Everything).then(top_words).into_iter().flatten();
    around.into_iter().flat_map(Word::inside).chain(elements).chain(tops)
}

/// The one of a name among them.
pub fn word_inside(around: Option<&'static Word>, name: &str) -> Option<&'static Word> {
    words_inside(around).find(|word| word.name == name)
}
