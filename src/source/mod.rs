//! KDL with places.

mod around;
mod braces;
mod brackets;
mod file_text;
mod files;
mod habits;
mod head;
mod known;
mod leftovers;
mod numbers;
mod parse;
#[cfg(test)]
mod parse_tests;
mod properties;
mod reader;
mod slip;
mod slips;
mod table;
mod tidy;
mod tokens;
mod tree;
mod typed;
mod unit;
mod word;
mod words;

pub use crate::assets::offer;
pub use file_text::FileText;
pub use files::{Files, unmarked};
pub use habits::habit;
#[cfg(test)]
pub use habits::{IN_PERCENT, NOT_IN_PERCENT, TEXTS, habits};
pub use head::manual;
pub use known::parse_file;
pub use leftovers::offer_word;
pub use parse::parse;
pub use reader::{Reader, meant};
pub use table::{Cell, Row, Table, table};
pub use tidy::{Untidied, tidied};
pub use tree::{Datum, Node, Tree, Value};
pub use unit::Unit;
pub use word::{
    Besides, KnownBy, Laid, RuleWords, Slot, Takes, Times, Word, choice, flag, mm, name, number, percent, pt, text,
    whole, words_of,
};
