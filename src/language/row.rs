//! Row: a row of a catalogue's table becomes a tree that is laid over the template, every word with its cell's place.

use crate::ground::{Findings, Span, Spanned, hidden, hidden_words};
use crate::language::row::columns::{Meaning, meaning};
use crate::language::row::draft::Draft;
use crate::source::{Cell, Datum, Row, Tree, Value};
use std::collections::BTreeMap;

mod columns;
mod draft;
#[cfg(test)]
mod laws;
mod numbers;
mod said;
mod slug;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod whole;

pub use columns::judge_columns;
pub use numbers::numbers_twice;
pub use slug::slugs_twice;

/// One row as the catalogue takes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Title {
    /// Of its row, as a spreadsheet counts.
    pub number: usize,
    /// Of its row.
    pub span: Span,
    /// What its files are called.
    pub slug: Spanned<String>,
    /// The path of a cover file of its own, which is laid over this tree.
    pub overrides: Option<Spanned<String>>,
    /// `book`, `format` and `swatches`, as far as the row speaks of them. Their nodes may lack what the template says.
    pub tree: Tree,
}

/// No cover names more authors, prices or quotes.
const LIST_LIMIT: usize = 1000;

/// Reads a row. Findings are its own: they stop this title alone; among them are what is wrong with the row as a table.
pub fn title(findings: &mut Findings, row: &Row) -> Title {
    findings.extend(row.faults.iter().cloned());
    let mut reading = Reading { findings, draft: Draft::new(row.span), slug: None, overrides: None };
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for cell in &row.cells {
        // A column that stands twice continues its list.
        let count = counts.entry(columns::known_as(&cell.column.value)).or_default();
        reading.cell(cell, *count);
        *count += cell.items.len();
    }
    let Reading { draft, slug: stated, overrides, .. } = reading;
    let slug = slug::of_row(findings, row, stated, draft.text("title"));
    Title { number: row.number, span: row.span, slug, overrides, tree: draft.tree() }
}

struct Reading<'a> {
    findings: &'a mut Findings,
    draft: Draft,
    slug: Option<Spanned<String>>,
    overrides: Option<Spanned<String>>,
}

impl Reading<'_> {
    /// Takes in a cell whose list begins at a place. What is empty says nothing: the template's word stays.
    fn cell(&mut self, cell: &Cell, first: usize) {
        let Some(whole) = said::trimmed(&cell.whole) else { return };
        if first + cell.items.len() > LIST_LIMIT && meaning(&cell.column.value) != Meaning::Fact {
            let message = format!("`{}` says more than {LIST_LIMIT} things", cell.column.value);
            self.findings.error(whole.span, message, "a cell holds one line for each");
            return;
        }
        if let Some((_, letter)) = hidden(&cell.whole.value).next() {
            let (message, help) = hidden_words(letter);
            self.findings.error(whole.span, message, help);
        }
        let items = || cell.items.iter().enumerate().filter_map(|(at, item)| Some((first + at, said::trimmed(item)?)));
        match meaning(&cell.column.value) {
            Meaning::Slug => self.slug = Some(whole),
            Meaning::Overrides => self.overrides = Some(whole),
            Meaning::Binding => self.draft.binding(said::text(whole)),
            Meaning::Text(word) if columns::is_list(word) => {
                for (at, item) in items() {
                    self.draft.book(word, at, item.span).values.push(said::text(item));
                }
            }
            Meaning::Text("isbn") if said::shortened(&whole.value) => {
                let message = format!("{} was an ISBN before a spreadsheet shortened it", whole.value);
                let help = "type it again with its hyphens, or set the column to text first: the digits are lost";
                self.findings.error(whole.span, message, help);
            }
            Meaning::Text(word) => {
                let said = said::one_line(&whole);
                self.draft.book(word, 0, said.span).values.push(said::text(said));
            }
            Meaning::Number(word) => self.draft.book(word, 0, whole.span).values.push(said::number_or_text(whole)),
            Meaning::Child(word, child) => {
                let said: Vec<Value> = if child == "lines" {
                    items().map(|(_, item)| said::text(item)).collect()
                } else {
                    vec![said::text(said::one_line(&whole))]
                };
                let node = self.draft.book(word, 0, whole.span);
                draft::child(node, child, whole.span).values.extend(said);
            }
            Meaning::Property(word, name) => {
                for (at, item) in items() {
                    let key = Spanned::new(name.to_owned(), item.span);
                    let value =
                        if name == "number" { said::number_or_text(item.clone()) } else { said::text(item.clone()) };
                    self.draft.book(word, at, item.span).properties.push((key, value));
                }
            }
            Meaning::Price(None) => items().for_each(|(_, item)| self.price(&item)),
            Meaning::Price(Some(currency)) => {
                let currency = Value { datum: Datum::Text(currency.to_owned()), unit: None, span: cell.column.span };
                items().for_each(|(_, item)| self.draft.price(currency.clone(), said::text(item)));
            }
            Meaning::Format(word, None) if columns::is_list(word) => {
                for (at, item) in items() {
                    if let Some(node) = said::node(self.findings, word, &item) {
                        self.draft.format(word, at, item.span).take(node);
                    }
                }
            }
            Meaning::Format(word, None) => {
                let said = if word == "trim" { said::size(whole) } else { whole };
                if let Some(node) = said::node(self.findings, word, &said) {
                    self.draft.format(word, 0, said.span).take(node);
                }
            }
            Meaning::Format(word, Some(property)) => {
                for (at, item) in items() {
                    let key = Spanned::new(property.to_owned(), cell.column.span);
                    self.draft.format(word, at, item.span).properties.push((key, said::number_or_text(item)));
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
                if let Some(node) = said::node(self.findings, "swatch", &whole) {
                    self.draft.swatch(name, cell.column.span, whole.span).take(node);
                }
            }
            Meaning::Swatch(name, Some(ink)) => {
                let key = Spanned::new(ink.to_owned(), cell.column.span);
                let value = said::number_or_text(whole.clone());
                self.draft.swatch(name, cell.column.span, whole.span).properties.push((key, value));
            }
            Meaning::Fact => self.draft.fact(cell.column.clone(), said::text(said::unix(&whole))),
        }
    }

    /// `GBP 10.90`.
    fn price(&mut self, item: &Spanned<String>) {
        let parts: Vec<Spanned<String>> = said::words(item);
        if let [currency, amount] = &parts[..] {
            self.draft.price(said::text(currency.clone()), said::text(amount.clone()));
        } else {
            let message = format!("{:?} is no price", item.value);
            let help = "write currency and amount, `GBP 10.90`, or name the column by its currency: price.GBP";
            self.findings.error(item.span, message, help);
        }
    }
}
