//! Columns: what the name of a column means.

use crate::assets::nearest;
use crate::ground::{Finding, Findings, Severity};
use crate::language::nodes::book::{BOOK, LINES, PRICE};
use crate::language::nodes::format::FORMAT;
use crate::language::nodes::swatches::{INKS, SWATCH};
use crate::source::{KnownBy, Table, Word, text};
use std::collections::BTreeSet;

#[derive(Clone, Copy)]
pub enum Meaning<'a> {
    Stem,
    Overrides,
    Binding,
    /// A word of `book` and what stands after it.
    Book(&'static Word),
    Property(&'static Word, &'static Word),
    Child(&'static Word, &'static Word),
    /// The currency, when the column names it.
    Price(Option<&'a str>),
    /// A word of `format`: what stands after it, or one property.
    Format(&'static Word, Option<&'a str>),
    /// A swatch by its name, or one ink of it.
    Swatch(&'a str, Option<&'a str>),
    /// A fact of the author's own.
    Fact,
}

const STEM: Word =
    Word::new("stem", "what the files of a title are called").takes(&[text("a name for files")]).was(&["slug"]);
const OVERRIDES: Word =
    Word::new("overrides", "a file that is laid over the cover of this title").takes(&[text("a path")]);
const BINDING: Word = Word::new("binding", "the binding of this title").takes(FORMAT.takes);
/// Columns that are no words of `book` or `format`.
pub const OWN: &[Word] = &[STEM, OVERRIDES, BINDING];

/// Capitals do not count in a known word, so that a header may say `Title` and `ISBN`.
pub fn meaning(column: &str) -> Meaning<'_> {
    let (head, tail) = column.split_once('.').map_or((column, None), |(head, tail)| (head, Some(tail)));
    let is = |word: &Word| word.name.eq_ignore_ascii_case(head);
    let book = BOOK.inside().find(|word| is(word) && word.known_by != KnownBy::Name);
    let format = FORMAT.inside().find(|word| is(word));
    match (book, format, tail) {
        (Some(word), _, tail) if word.name == PRICE.name => Meaning::Price(tail),
        (Some(word), _, None) => Meaning::Book(word),
        (Some(word), _, Some(tail)) => {
            let named = |part: &&Word| part.name.eq_ignore_ascii_case(tail);
            let property = || word.properties.iter().find(named).map(|part| Meaning::Property(word, part));
            word.inside().find(named).map(|part| Meaning::Child(word, part)).or_else(property).unwrap_or(Meaning::Fact)
        }
        (None, Some(word), tail) => Meaning::Format(word, tail),
        (None, None, None) if is(&STEM) => Meaning::Stem,
        (None, None, None) if is(&OVERRIDES) => Meaning::Overrides,
        (None, None, None) if is(&BINDING) => Meaning::Binding,
        (None, None, Some(tail)) if is(&SWATCH) => match tail.rsplit_once('.') {
            Some((name, ink)) if INKS.iter().any(|known| known.name == ink) => Meaning::Swatch(name, Some(ink)),
            _ => Meaning::Swatch(tail, None),
        },
        _ => Meaning::Fact,
    }
}

/// A column's name as the language spells it.
pub fn known_as(column: &str) -> String {
    let (head, tail) = column.split_once('.').unwrap_or((column, ""));
    match meaning(column) {
        Meaning::Fact => column.to_owned(),
        // Currencies, swatches and the properties of a format are told apart by capitals.
        Meaning::Price(Some(_)) | Meaning::Swatch(..) | Meaning::Format(_, Some(_)) => {
            format!("{}.{tail}", head.to_lowercase())
        }
        _ => column.to_lowercase(),
    }
}

/// Judges the columns of a whole table: one that stands twice and is no list, and one that nothing uses, as far as can be
/// read in what the template says.
pub fn judge_columns(findings: &mut Findings, table: &Table, stated: &str) {
    let known = known();
    let mut seen = BTreeSet::new();
    for column in table.columns.iter().filter(|column| !column.value.is_empty()) {
        let list = match meaning(&column.value) {
            Meaning::Book(word) | Meaning::Property(word, _) | Meaning::Format(word, _) => word.many,
            Meaning::Price(_) => true,
            Meaning::Child(_, child) => child.name == LINES.name,
            _ => false,
        };
        if !seen.insert(known_as(&column.value)) && !list {
            let message = format!("the column `{}` stands twice", column.value);
            findings.error(column.span, message, "keep one of the two, or give one another name");
        }
        if let Meaning::Swatch(name, _) = meaning(&column.value)
            && !names(stated).any(|known| known == name)
        {
            let message = format!("nothing in the template is printed in the swatch `{name}`");
            let near = nearest(name, names(stated));
            let help =
                near.map_or_else(|| "take the column out".to_owned(), |near| format!("did you mean `swatch.{near}`?"));
            findings.push(Finding::new(Severity::Warning, "language", column.span, message).help(help));
        }
        if !matches!(meaning(&column.value), Meaning::Fact) {
            continue;
        }
        let renamed = |word: &&Word| word.was.iter().any(|old| old.eq_ignore_ascii_case(&column.value));
        if let Some(word) = OWN.iter().find(renamed) {
            let message = format!("a column `{}` means nothing now", column.value);
            findings.error(column.span, message, format!("it is called `{}` now", word.name));
            continue;
        }
        if is_used(stated, &column.value) {
            continue;
        }
        let lower = column.value.to_lowercase();
        if let Some(meant) = spelt(stated).find(|fact| fact.to_lowercase() == lower) {
            let message = format!("the template calls it `{meant}`, and this column is called `{}`", column.value);
            findings.error(column.span, message, "give both the same capitals");
            continue;
        }
        if let Some(near) = nearest(&column.value, known.iter().map(String::as_str)) {
            let message = format!("`{}` is not a word of a book: it becomes a fact that nothing uses", column.value);
            let help = format!("did you mean `{near}`? A fact of your own is used as {{{}}}", column.value);
            findings.push(Finding::new(Severity::Warning, "language", column.span, message).help(help));
        } else {
            let message = format!("nothing in the template uses the column `{}`", column.value);
            let help = format!("it is used as {{{}}}; what only people read may stay", column.value);
            findings.push(Finding::new(Severity::Note, "language", column.span, message).help(help));
        }
    }
}

/// Whether a template speaks of a fact.
fn is_used(stated: &str, fact: &str) -> bool {
    let ways = [
        format!("{{{fact}}}"),
        format!("{{{fact}."),
        format!("when={fact}"),
        format!("unless={fact}"),
        format!("each {fact}"),
    ];
    ways.iter().any(|way| stated.contains(way.as_str()))
}

/// The facts that a template speaks of, and other words.
fn spelt(stated: &str) -> impl Iterator<Item = &str> {
    stated
        .split(|letter: char| !letter.is_alphanumeric() && !['-', '_', '.'].contains(&letter))
        .filter(|word| !word.is_empty() && is_used(stated, word))
}

/// Words that may be names: letters, digits and hyphens.
fn names(stated: &str) -> impl Iterator<Item = &str> {
    stated
        .split(|letter: char| !letter.is_alphanumeric() && letter != '-' && letter != '_')
        .filter(|name| !name.is_empty())
}

/// Every column that means something.
fn known() -> Vec<String> {
    let facts = || BOOK.inside().filter(|word| word.known_by != KnownBy::Name);
    let parts = facts().flat_map(|word| {
        let parts = word.properties.iter().chain(word.inside());
        parts.map(move |part| format!("{}.{}", word.name, part.name))
    });
    let plain = facts().chain(FORMAT.inside()).chain(OWN).map(|word| word.name.to_owned());
    plain.chain(parts).collect()
}
