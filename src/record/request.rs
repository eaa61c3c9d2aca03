//! Request: which cover is to be built: a file, and what is laid over it.

use crate::ground::{Digest, Finding};
use crate::source::{FileText, Row, Table};
use std::sync::Arc;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct CoverRequest {
    /// The cover file, or the template, on the shelf.
    pub path: String,
    /// A row of a catalogue's table, laid over the template.
    pub title: Option<CatalogueTitle>,
    pub edition: Option<String>,
    /// Facts tried out, as KDL, laid over everything.
    pub trial: Option<String>,
    /// Warnings are errors.
    pub strict: bool,
}

/// One title of a catalogue: a row of its table.
#[derive(Clone, Debug, PartialEq)]
pub struct CatalogueTitle {
    pub sheet: Arc<CatalogueTable>,
    /// Its place among the table's rows.
    pub row: usize,
    pub stem: String,
    /// What is wrong with it among the other rows: it stops this cover alone.
    pub faults: Vec<Finding>,
    /// Another row has its stem: it must not write over that one's files.
    pub is_twin: bool,
    /// Its row is wrong, and so are so many others that they are reported without a drawing.
    pub is_undrawn: bool,
}

/// A table with its file, shared by all its titles. It is numbered right after the template: see [`crate::targets::TABLE`].
#[derive(Debug, PartialEq)]
pub struct CatalogueTable {
    pub path: String,
    pub text: FileText,
    /// Of the text: counted once, however many findings point into it.
    pub digest: Digest,
    pub table: Table,
}

impl CoverRequest {
    /// A cover as its file stands.
    pub fn of(path: &str) -> CoverRequest {
        CoverRequest { path: path.to_owned(), ..CoverRequest::default() }
    }
}

impl CatalogueTitle {
    pub fn row(&self) -> Option<&Row> {
        self.sheet.table.rows.get(self.row)
    }
}
