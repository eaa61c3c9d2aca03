//! KDL with places.

mod files;
mod head;
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

pub use crate::assets::offer;
pub use files::{Files, unmarked};
pub use head::manual;
pub use parse::parse;
pub use reader::{Reader, Unit, stands_below};
pub use table::{Cell, Row, Table, table};
pub use tidy::{Untidied, tidied};
pub use tree::{Datum, Node, Tree, Value};
