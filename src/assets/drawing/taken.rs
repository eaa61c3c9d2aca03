//! Taken: text that a `tref` takes from another element, letters that stand in the file only once.

use crate::assets::drawing::bounds::SVG;
use std::collections::{BTreeMap, BTreeSet};
use usvg::roxmltree::{Document, Node};

/// Letters of the elements that are asked for, by name.
pub struct TakenLetters<'a> {
    letters: BTreeMap<&'a str, u64>,
    /// Of the whole file; each `tref` looks for its element in all of them.
    nodes: u64,
}

impl<'a> TakenLetters<'a> {
    pub fn of(document: &'a Document<'_>) -> TakenLetters<'a> {
        let asking = document.descendants().filter(|node| node.has_tag_name((SVG, "tref")));
        let asked: BTreeSet<&str> = asking.flat_map(names).collect();
        let mut letters = BTreeMap::new();
        if asked.is_empty() {
            return TakenLetters { letters, nodes: 0 };
        }
        for node in document.descendants() {
            if let Some(id) = node.attribute("id").filter(|id| asked.contains(id)) {
                letters.entry(id).or_insert_with(|| written(node).0);
            }
        }
        TakenLetters { letters, nodes: document.descendants().count() as u64 }
    }

    /// Letters of a text, and the runs that they come in.
    pub fn counted(&self, text: Node<'_, '_>) -> (u64, u64) {
        let (letters, runs) = written(text);
        let taken = asking(text).map(|tref| names(tref).filter_map(|name| self.letters.get(name)).sum::<u64>());
        taken.fold((letters, runs), |(letters, runs), more| (letters + more, runs + 1))
    }

    /// Pieces of the file that are looked at for a text.
    pub fn searched(&self, text: Node<'_, '_>) -> u64 {
        if self.nodes == 0 { 0 } else { self.nodes.saturating_mul(asking(text).count() as u64) }
    }
}

fn asking<'a, 'input>(text: Node<'a, 'input>) -> impl Iterator<Item = Node<'a, 'input>> {
    text.descendants().filter(|node| node.has_tag_name((SVG, "tref")))
}

fn names<'a>(tref: Node<'a, '_>) -> impl Iterator<Item = &'a str> {
    let hrefs = tref.attributes().filter(|attribute| attribute.name() == "href");
    hrefs.filter_map(|href| href.value().trim().strip_prefix('#')?.split(' ').next())
}

fn written(node: Node<'_, '_>) -> (u64, u64) {
    let runs = node.descendants().filter(Node::is_text).filter_map(|run| run.text());
    runs.fold((0, 0), |(letters, runs), run| (letters + run.chars().count() as u64, runs + 1))
}
