//! Row: a row of a catalogue's table becomes a tree that is laid over the template, every word with its cell's place.

use crate::ground::{Findings, Spanned, hidden, hidden_words};
use crate::language::nodes::book::{ISBN, LINES, TITLE};
use crate::language::nodes::format::{PIXELS, TRIM};
use crate::language::nodes::swatches::SWATCH;
use crate::language::row::columns::{Meaning, meaning};
use crate::language::row::draft::Draft;
use crate::source::{Cell, Datum, Row, Tree, Value, Word};
use std::collections::BTreeMap;

mod columns;
mod draft;
#[cfg(test)]
mod laws;
mod numbers;
mod stem;
#[cfg(test)]
mod tests;
mod title;
mod values;
#[cfg(test)]
mod whole;

pub use columns::judge_columns;
pub use numbers::numbers_twice;
pub use stem::stems_twice;
pub use title::Title;

/// No cover names more authors, prices or quotes.
const LIST_LIMIT: usize = 1000;

/// Reads a row. Findings are its own: they stop this title alone; among them are what is wrong with the row as a table.
pub fn title(findings: &mut Findings, row: &Row) -> Title {
    findings.extend(row.faults.iter().cloned());
    let mut reading = RowReading { findings, draft: Draft::new(row.span), stem: None, overrides: None };
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for cell in &row.cells {
        // A column that stands twice continues its list.
        let count = counts.entry(columns::known_as(&cell.column.value)).or_default();
        reading.cell(cell, *count);
        *count += cell.items.len();
    }
    let known = known(row);
    let RowReading { draft, stem: stated, overrides, .. } = reading;
    let stem = stem::of_row(findings, row, stated, draft.text(TITLE.name));
    Title { number: row.number, span: row.span, stem, overrides, known, tree: draft.tree() }
}

/// Every fact of the author's own that a column is called by and this row leaves empty.
fn known(row: &Row) -> Tree {
    let mut empty = Draft::new(row.span);
    for cell in row.cells.iter().filter(|cell| cell.whole.value.trim().is_empty()) {
        if matches!(meaning(&cell.column.value), Meaning::Fact) {
            empty.fact(cell.column.clone(), values::text(Spanned::new(String::new(), cell.whole.span)));
        }
    }
    empty.tree()
}

struct RowReading<'a> {
    findings: &'a mut Findings,
    draft: Draft,
    stem: Option<Spanned<String>>,
    overrides: Option<Spanned<String>>,
}

impl RowReading<'_> {
    /// Takes in a cell whose list begins at a place. What is empty says nothing: the template's word stays.
    fn cell(&mut self, cell: &Cell, first: usize) {
        let Some(whole) = values::trimmed(&cell.whole) else { return };
        if first + cell.items.len() > LIST_LIMIT && !matches!(meaning(&cell.column.value), Meaning::Fact) {
            let message = format!("`{}` says more than {LIST_LIMIT} things", cell.column.value);
            self.findings.error(whole.span, message, "a cell holds one line for each");
            return;
        }
        if let Some((_, letter)) = hidden(&cell.whole.value).next() {
            let (message, help) = hidden_words(letter);
            self.findings.error(whole.span, message, help);
        }
        let items =
            || cell.items.iter().enumerate().filter_map(|(at, item)| Some((first + at, values::trimmed(item)?)));
        match meaning(&cell.column.value) {
            Meaning::Stem => self.stem = Some(whole),
            Meaning::Overrides => self.overrides = Some(whole),
            Meaning::Binding => self.draft.binding(values::text(whole)),
            Meaning::Book(word) if word.many => {
                for (at, item) in items() {
                    self.draft.book(word.name, at, item.span).values.push(values::text(item));
                }
            }
            Meaning::Book(word) if word.name == ISBN.name && values::shortened(&whole.value) => {
                let message = format!("{} was an ISBN before a spreadsheet shortened it", whole.value);
                let help = "type it again with its hyphens, or set the column to text first: the digits are lost";
                self.findings.error(whole.span, message, help);
            }
            Meaning::Book(word) if word.is_text() => {
                let said = values::one_line(&whole);
                self.draft.book(word.name, 0, said.span).values.push(values::text(said));
            }
            Meaning::Book(word) => {
                self.draft.book(word.name, 0, whole.span).values.push(values::number_or_text(whole));
            }
            Meaning::Child(word, child) => {
                let said: Vec<Value> = if child.name == LINES.name {
                    items().map(|(_, item)| values::text(item)).collect()
                } else {
                    vec![values::text(values::one_line(&whole))]
                };
                let node = self.draft.book(word.name, 0, whole.span);
                draft::child(node, child.name, whole.span).values.extend(said);
            }
            Meaning::Property(word, property) => {
                for (at, item) in items() {
                    let key = Spanned::new(property.name.to_owned(), item.span);
                    let value = value(property, item.clone());
                    self.draft.book(word.name, at, item.span).properties.push((key, value));
                }
            }
            Meaning::Price(None) => items().for_each(|(_, item)| self.price(&item)),
            Meaning::Price(Some(currency)) => {
                let currency = Value { datum: Datum::Text(currency.to_owned()), unit: None, span: cell.column.span };
                items().for_each(|(_, item)| self.draft.price(currency.clone(), values::text(item)));
            }
            Meaning::Format(word, None) if word.many => {
                for (at, item) in items() {
                    if let Some(node) = values::node(self.findings, word.name, &item) {
                        self.draft.format(word.name, at, item.span).take(node);
                    }
                }
            }
            Meaning::Format(word, None) => {
                let said = if [TRIM.name, PIXELS.name].contains(&word.name) { values::size(whole) } else { whole };
                if let Some(node) = values::node(self.findings, word.name, &said) {
                    self.draft.format(word.name, 0, said.span).take(node);
                }
            }
            Meaning::Format(word, Some(property)) => {
                for (at, item) in items() {
                    let key = Spanned::new(property.to_owned(), cell.column.span);
                    self.draft.format(word.name, at, item.span).properties.push((key, values::number_or_text(item)));
                }
            }
            Meaning::Swatch(_, None) if whole.value.trim_start_matches('"').starts_with('#') => {
                let message = format!("`{}` is a colour of screens, and a swatch is stated in ink", whole.value);
                self.findings.error(
                    whole.span,
                    message,
                    "write its inks in percent into the cell: c=92 m=74 y=38 k=42",
                );
            }
            Meaning::Swatch(name, None) => {
                if let Some(node) = values::node(self.findings, SWATCH.name, &whole) {
                    self.draft.swatch(name, cell.column.span, whole.span).take(node);
                }
            }
            Meaning::Swatch(name, Some(ink)) => {
                let key = Spanned::new(ink.to_owned(), cell.column.span);
                let value = values::number_or_text(whole.clone());
                self.draft.swatch(name, cell.column.span, whole.span).properties.push((key, value));
            }
            Meaning::Fact => self.draft.fact(cell.column.clone(), values::text(values::unix(&whole))),
        }
    }

    /// `GBP 10.90`.
    fn price(&mut self, item: &Spanned<String>) {
        let parts: Vec<Spanned<String>> = values::words(item);
        if let [currency, amount] = &parts[..] {
            self.draft.price(values::text(currency.clone()), values::text(amount.clone()));
        } else {
            let message = format!("{:?} is not a price", item.value);
            let help = "write currency and amount, `GBP 10.90`, or name the column by its currency: price.GBP";
            self.findings.error(item.span, message, help);
        }
    }
}

/// What a property takes: its own kind of value, as a cell shows it.
fn value(property: &Word, said: Spanned<String>) -> Value {
    if property.is_number() { values::number_or_text(said) } else { values::text(said) }
}
