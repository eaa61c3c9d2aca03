//! The words of the language, one file each. A file's head is its manual page.

use crate::language::{Node, Role};

mod band;
mod barcode;
mod book;
mod deliver;
pub mod each;
mod edition;
mod format;
mod group;
mod guides;
mod image;
mod oval;
pub mod panel;
pub mod part;
mod path;
mod press;
mod rule;
mod series;
mod stack;
mod style;
mod swatches;
mod text;
mod waive;

/// In the order in which facts are read: each finds those before it ready.
pub const NODES: &[&Node] = &[
    &book::NODE,
    &format::NODE,
    &press::NODE,
    &swatches::NODE,
    &style::NODE,
    &guides::NODE,
    &deliver::NODE,
    &series::NODE,
    &edition::NODE,
    &panel::NODE,
    &part::NODE,
    &text::NODE,
    &image::NODE,
    &barcode::NODE,
    &band::NODE,
    &rule::NODE,
    &oval::NODE,
    &path::NODE,
    &group::NODE,
    &stack::NODE,
    &each::NODE,
    &waive::NODE,
];

/// The words that may stand in a panel.
pub fn elements() -> impl Iterator<Item = &'static &'static Node> {
    NODES.iter().filter(|node| matches!(node.role, Role::Element(_)))
}
