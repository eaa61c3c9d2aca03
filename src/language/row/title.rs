//! Title: one row of a catalogue's table, read.

use crate::ground::{Span, Spanned};
use crate::source::Tree;

/// One row as the catalogue takes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Title {
    /// Of its row, as a spreadsheet counts.
    pub number: usize,
    /// Of its row.
    pub span: Span,
    /// What its files are called.
    pub stem: Spanned<String>,
    /// The path of a cover file of its own, which is laid over this tree.
    pub overrides: Option<Spanned<String>>,
    /// Facts of the author's own whose cells are empty: nothing is said of them, and yet they are known.
    pub known: Tree,
    /// `book`, `format` and `swatches`, as far as the row speaks of them. Their nodes may lack what the template says.
    pub tree: Tree,
}
