//! Columns: what the name of a column means.

use crate::assets::nearest;
use crate::ground::{Finding, Findings, Severity};
use crate::source::Table;
use std::collections::BTreeSet;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Meaning<'a> {
    Slug,
    Overrides,
    Binding,
    /// A word of `book` and its text.
    Text(&'static str),
    Number(&'static str),
    Property(&'static str, &'static str),
    Child(&'static str, &'static str),
    /// The currency, when the column names it.
    Price(Option<&'a str>),
    /// A word of `format`: what stands after it, or one property.
    Format(&'static str, Option<&'a str>),
    /// A swatch by its name, or one ink of it.
    Swatch(&'a str, Option<&'a str>),
    Fact,
}

/// Words of `book` that may be set short and in lines.
const TITLED: [&str; 6] = ["title", "subtitle", "author", "translator", "illustrator", "publisher"];
const PLAIN: [&str; 4] = ["language", "isbn", "in-series", "quote"];
const NUMBERS: [&str; 2] = ["pages", "version"];
const PROPERTIES: [(&str, &str); 5] =
    [("pages", "state"), ("in-series", "number"), ("version", "date"), ("quote", "by"), ("quote", "source")];
const CHILDREN: [&str; 2] = ["short", "lines"];
const FORMAT: [&str; 14] = [
    "trim",
    "paper",
    "cover-stock",
    "spine",
    "bleed",
    "safe",
    "glue",
    "section",
    "flap",
    "growth",
    "hinge",
    "board",
    "spine-shape",
    "round-spine",
];
const OWN: [&str; 4] = ["slug", "overrides", "binding", "price"];
const INKS: [&str; 4] = ["c", "m", "y", "k"];

/// Capitals do not count in a known word, so that a header may say `Title` and `ISBN`.
pub fn meaning(column: &str) -> Meaning<'_> {
    let (head, tail) = column.split_once('.').map_or((column, None), |(head, tail)| (head, Some(tail)));
    let among = |words: &[&'static str], said: &str| words.iter().find(|word| word.eq_ignore_ascii_case(said)).copied();
    let Some(tail) = tail else {
        let text = among(&TITLED, head).or_else(|| among(&PLAIN, head)).map(Meaning::Text);
        let number = || among(&NUMBERS, head).map(Meaning::Number);
        let format = || among(&FORMAT, head).map(|word| Meaning::Format(word, None));
        let own = || {
            Some(match among(&OWN, head)? {
                "slug" => Meaning::Slug,
                "overrides" => Meaning::Overrides,
                "binding" => Meaning::Binding,
                _ => Meaning::Price(None),
            })
        };
        return text.or_else(number).or_else(format).or_else(own).unwrap_or(Meaning::Fact);
    };
    if head.eq_ignore_ascii_case("price") {
        return Meaning::Price(Some(tail));
    }
    if head.eq_ignore_ascii_case("swatch") {
        return match tail.rsplit_once('.') {
            Some((name, ink)) if INKS.contains(&ink) => Meaning::Swatch(name, Some(ink)),
            _ => Meaning::Swatch(tail, None),
        };
    }
    if let Some(word) = among(&FORMAT, head) {
        return Meaning::Format(word, Some(tail));
    }
    let property = || {
        let same = |(word, name): &&(&str, &str)| word.eq_ignore_ascii_case(head) && name.eq_ignore_ascii_case(tail);
        PROPERTIES.iter().find(same).map(|(word, name)| Meaning::Property(word, name))
    };
    let child = among(&TITLED, head).zip(among(&CHILDREN, tail)).map(|(word, child)| Meaning::Child(word, child));
    child.or_else(property).unwrap_or(Meaning::Fact)
}

/// Words that a row may say several times.
pub fn is_list(word: &str) -> bool {
    matches!(word, "author" | "quote" | "paper")
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
pub fn judge_columns(findings: &mut Findings, table: &Table, said: &str) {
    let known = known();
    let mut seen = BTreeSet::new();
    for column in table.columns.iter().filter(|column| !column.value.is_empty()) {
        let list = match meaning(&column.value) {
            Meaning::Text(word) | Meaning::Property(word, _) | Meaning::Format(word, _) => is_list(word),
            Meaning::Price(_) | Meaning::Child(_, "lines") => true,
            _ => false,
        };
        if !seen.insert(known_as(&column.value)) && !list {
            let message = format!("the column `{}` stands twice", column.value);
            findings.error(column.span, message, "keep one of the two, or give one another name");
        }
        if let Meaning::Swatch(name, _) = meaning(&column.value)
            && !names(said).any(|known| known == name)
        {
            let message = format!("nothing in the template is printed in the swatch `{name}`");
            let near = nearest(name, names(said));
            let help =
                near.map_or_else(|| "take the column out".to_owned(), |near| format!("did you mean `swatch.{near}`?"));
            findings.push(Finding::new(Severity::Warning, "language", column.span, message).help(help));
        }
        if meaning(&column.value) != Meaning::Fact || is_used(said, &column.value) {
            continue;
        }
        if let Some(near) = nearest(&column.value, known.iter().map(String::as_str)) {
            let message = format!("`{}` is no word of a book: it becomes a fact that nothing uses", column.value);
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
fn is_used(said: &str, fact: &str) -> bool {
    let ways = [format!("{{{fact}}}"), format!("{{{fact}."), format!("when={fact}"), format!("each {fact}")];
    ways.iter().any(|way| said.contains(way.as_str()))
}

/// Words that may be names: letters, digits and hyphens.
fn names(said: &str) -> impl Iterator<Item = &str> {
    said.split(|letter: char| !letter.is_alphanumeric() && letter != '-' && letter != '_')
        .filter(|name| !name.is_empty())
}

/// Every column that means something.
fn known() -> Vec<String> {
    let plain = [&TITLED[..], &PLAIN, &NUMBERS, &FORMAT, &OWN].concat().into_iter().map(str::to_owned);
    let children = TITLED.iter().flat_map(|word| CHILDREN.map(|child| format!("{word}.{child}")));
    plain.chain(children).chain(PROPERTIES.map(|(word, name)| format!("{word}.{name}"))).collect()
}
