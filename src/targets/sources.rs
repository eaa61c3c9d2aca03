//! Sources: where the files of a cover are read, and where what is wrong with them is reported.

use crate::assets::Shelf;
use crate::ground::{Findings, Spanned};
use crate::source::{Datum, Files, Node, Tree};
use std::cell::RefCell;

/// What is read, and where it is reported.
#[derive(Clone, Copy)]
pub struct Sources<'a> {
    pub shelf: &'a dyn Shelf,
    pub files: &'a Files,
    pub findings: &'a RefCell<Findings>,
}

/// The file that a tree names under a word at its top, as it is written.
pub fn top_text(tree: &Tree, word: &str) -> Option<Spanned<String>> {
    let node: &Node = tree.nodes.iter().find(|node| node.name.value == word)?;
    let value = node.values.first()?;
    match &value.datum {
        Datum::Text(text) => Some(Spanned::new(text.clone(), value.span)),
        _ => None,
    }
}
