//! KDL with places.

mod files;
mod parse;
#[cfg(test)]
mod parse_tests;
mod reader;
mod slips;
mod table;
mod tidy;
mod tokens;
mod tree;
mod words;

pub use files::{Files, unmarked};
pub use parse::parse;
pub use reader::{Reader, Unit, offer, stands_below};
pub use table::{Cell, Row, Table, table};
pub use tidy::{Untidied, tidied};
pub use tree::{Datum, Node, Tree, Value};
