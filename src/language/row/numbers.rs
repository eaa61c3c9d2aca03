//! Numbers: no two titles have one ISBN.

use crate::ground::{Finding, Severity, Spanned};
use crate::language::nodes::book::{BOOK, ISBN};
use crate::language::row::title::Title;
use crate::source::{Datum, Tree};
use std::collections::BTreeMap;

/// Every title whose ISBN an earlier one has, by its place, with what is wrong.
pub fn numbers_twice(titles: &[Title]) -> Vec<(usize, Finding)> {
    let mut first: BTreeMap<String, &Title> = BTreeMap::new();
    let mut found = Vec::new();
    for (at, title) in titles.iter().enumerate() {
        let Some(number) = number(&title.tree) else { continue };
        if let Some(other) = first.get(&number.value) {
            let message = format!("row {} has this ISBN, too", other.number);
            let help = "every title, in every binding, has a number of its own; one of the two is wrong";
            found.push((at, Finding::new(Severity::Error, "language", number.span, message).help(help)));
        } else {
            first.insert(number.value, title);
        }
    }
    found
}

/// The digits of a title's ISBN, and the `X` that some old ones end in.
fn number(tree: &Tree) -> Option<Spanned<String>> {
    let book = tree.nodes.iter().find(|node| node.name.value == BOOK.name)?;
    let value = book.children.iter().find(|node| node.name.value == ISBN.name)?.values.first()?;
    let Datum::Text(text) = &value.datum else { return None };
    let digits: String = text.chars().filter(char::is_ascii_alphanumeric).collect();
    (!digits.is_empty()).then(|| Spanned::new(digits, value.span))
}
