//! Table: a catalogue's titles, one row a title, from CSV (RFC 4180) or JSON (RFC 8259), with the place of every cell.

#[cfg(test)]
mod errors;
#[cfg(test)]
mod laws;
mod objects;
mod read;
mod records;
mod rows;
mod scan;
#[cfg(test)]
mod tests;

pub use read::table;
pub use rows::{Cell, Row, Table};
