//! Shown: which elements of a drawing are drawn where they stand, and which of them can be seen.

use crate::assets::drawing::style::Styles;
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node};

/// What is drawn only where something asks for it.
const KEPT: [&str; 6] = ["clipPath", "defs", "marker", "mask", "pattern", "symbol"];

pub fn is_kept(name: &str) -> bool {
    KEPT.contains(&name)
}

/// By the numbers of elements.
pub struct ShownElements(BTreeMap<usize, ShownElement>);

#[derive(Clone, Copy)]
struct ShownElement {
    drawn: bool,
    seen: bool,
    /// Whether it says itself that it is seen, or not.
    says: bool,
}

impl ShownElements {
    pub fn of(document: &Document<'_>, styles: &Styles<'_>) -> ShownElements {
        let mut all = BTreeMap::new();
        // Parents stand before their children.
        for node in document.descendants().filter(Node::is_element) {
            let above = node.parent_element().and_then(|parent| all.get(&parent.id().get_usize()));
            let above = above.copied().unwrap_or(ShownElement { drawn: true, seen: true, says: false });
            let drawn =
                above.drawn && !is_kept(node.tag_name().name()) && styles.stated(node, "display") != Some("none");
            let said = match styles.stated(node, "visibility") {
                Some("hidden" | "collapse") => Some(false),
                Some("visible") => Some(true),
                _ => None,
            };
            let shown = ShownElement { drawn, seen: said.unwrap_or(above.seen), says: said.is_some() };
            all.insert(node.id().get_usize(), shown);
        }
        ShownElements(all)
    }

    fn at(&self, node: Node<'_, '_>) -> Option<&ShownElement> {
        self.0.get(&node.id().get_usize())
    }

    /// Whether it is drawn where it stands, and seen.
    pub fn prints(&self, node: Node<'_, '_>) -> bool {
        self.at(node).is_some_and(|shown| shown.drawn && shown.seen)
    }

    pub fn is_seen(&self, node: Node<'_, '_>) -> bool {
        self.at(node).is_some_and(|shown| shown.seen)
    }

    pub fn says(&self, node: Node<'_, '_>) -> bool {
        self.at(node).is_some_and(|shown| shown.says)
    }
}
