//! Commission: which cover is to be built: a file, and what is laid over it.

use crate::ground::{Finding, Spanned};
use crate::source::Tree;
use std::sync::Arc;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Commission {
    /// The cover file, or the template, on the shelf.
    pub path: String,
    /// A row of a catalogue's table, laid over the template.
    pub title: Option<Arc<Title>>,
    pub edition: Option<String>,
    /// Facts tried out, as KDL, laid over everything.
    pub tried: Option<String>,
}

/// One row of a catalogue's table.
#[derive(Clone, Debug, PartialEq)]
pub struct Title {
    /// The table on the shelf, and its text. It is numbered right after the template: see [`crate::build::TABLE`].
    pub table: String,
    pub text: Arc<str>,
    /// What the row says.
    pub tree: Tree,
    /// A file of its own, laid over the row.
    pub overrides: Option<Spanned<String>>,
    /// What is wrong with the row as part of its table: it stops this cover alone.
    pub faults: Vec<Finding>,
}

impl Commission {
    /// A cover as its file stands.
    pub fn of(path: &str) -> Commission {
        Commission { path: path.to_owned(), ..Commission::default() }
    }
}
