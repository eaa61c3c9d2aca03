//! Alike: what a tree says of sizes that all covers of a series share, and what of it has a say in them.

use crate::ground::Span;
use crate::language::nodes::image::HEADWORD as IMAGE;
use crate::language::nodes::panel::{PANEL, WRAP};
use crate::language::nodes::style::{ALIKE, SIZE};
use crate::language::nodes::text::INSIDE;
use crate::source::{Datum, Node, Tree};
use std::collections::BTreeSet;

/// Where a cover asks for one size in all covers of its series.
pub fn asks_alike(tree: &Tree) -> Vec<Span> {
    let mut asked = Vec::new();
    tree.nodes.iter().for_each(|node| ask(node, &mut asked));
    asked
}

fn ask(node: &Node, asked: &mut Vec<Span>) {
    let says =
        |word: &str| node.properties.iter().any(|(key, value)| key.value == word && value.datum == Datum::Flag(true));
    if node.name.value == SIZE.name && says(ALIKE.name) {
        asked.push(node.span);
    }
    node.children.iter().for_each(|child| ask(child, asked));
}

/// The cover without what has no say in the size of its words: pictures that no other element names, and what shows inside
/// letters. So none of the large files of other covers is opened for their sizes.
pub fn for_sizes(tree: &Tree) -> Tree {
    let mut named = BTreeSet::new();
    tree.nodes.iter().for_each(|node| name_in(node, &mut named));
    let mut tree = tree.clone();
    for panel in tree.nodes.iter_mut().filter(|node| [&PANEL, &WRAP].iter().any(|word| word.name == node.name.value)) {
        panel
            .children
            .retain(|child| child.name.value != IMAGE.word.name || said(child).all(|word| named.contains(word)));
        panel.children.iter_mut().for_each(close);
    }
    tree
}

/// Takes away what shows inside letters.
fn close(node: &mut Node) {
    node.children.retain(|child| child.name.value != INSIDE.name);
    node.children.iter_mut().for_each(close);
}

fn said(node: &Node) -> impl Iterator<Item = &str> {
    node.values.iter().filter_map(|value| match &value.datum {
        Datum::Text(word) => Some(word.as_str()),
        _ => None,
    })
}

/// All words that nodes say, but for the names of pictures themselves.
fn name_in<'a>(node: &'a Node, named: &mut BTreeSet<&'a str>) {
    if node.name.value != IMAGE.word.name {
        named.extend(said(node));
    }
    node.children.iter().for_each(|child| name_in(child, named));
}
