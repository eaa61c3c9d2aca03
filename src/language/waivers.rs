//! Waivers: the `waive` words of a tree, taken out of it before anything else is read.

use crate::cover::{Reach, Waiver};
use crate::ground::Span;
use crate::language::context::Desk;
use crate::language::nodes::element_words;
use crate::language::nodes::panel::{PANEL, WRAP};
use crate::language::nodes::part::PART;
use crate::language::nodes::waive::{REASON, WAIVE};
use crate::scene::Surface;
use crate::source::{Node, Reader, Tree};
use std::borrow::Cow;

/// The tree without its `waive` words, and what they say.
pub fn waivers<'a>(desk: &Desk<'_>, tree: &'a Tree) -> (Cow<'a, Tree>, Vec<Waiver>) {
    if !tree.nodes.iter().any(mentions) {
        return (Cow::Borrowed(tree), Vec::new());
    }
    let mut tree = tree.clone();
    let mut all = Vec::new();
    take(desk, &mut tree.nodes, Some(&Reach::Cover), &mut all);
    (Cow::Owned(tree), all)
}

fn mentions(node: &Node) -> bool {
    node.name.value == WAIVE.name || node.children.iter().any(mentions)
}

fn take(desk: &Desk<'_>, nodes: &mut Vec<Node>, reach: Option<&Reach>, all: &mut Vec<Waiver>) {
    for node in nodes.iter().filter(|node| node.name.value == WAIVE.name) {
        let reader = Reader::new(node, &WAIVE, desk.findings);
        let (rule, reason) = (reader.text(), reader.text_property(&REASON));
        let Some(reach) = reach else {
            let help = "write it in an element, in a panel, or at the top of the file";
            reader.error(node.name.span, "`waive` has no place here", help);
            continue;
        };
        match (rule, reason) {
            (Some(rule), Some(reason)) if !reason.value.trim().is_empty() => {
                all.push(Waiver { rule, reason: reason.value, reach: reach.clone() });
            }
            (Some(_), _) => {
                let help = "write why, for whoever reads the report: `reason=\"…\"`";
                reader.error(node.name.span, "this waiver gives no reason", help);
            }
            (None, _) => {}
        }
    }
    nodes.retain(|node| node.name.value != WAIVE.name);
    for node in nodes {
        let within = within(node);
        take(desk, &mut node.children, within.as_ref(), all);
    }
}

/// Where a waiver inside a node holds.
fn within(node: &Node) -> Option<Reach> {
    let first = node.values.first();
    match node.name.value.as_str() {
        word if word == PANEL.name => {
            first.map(|name| Surface::named(&name.written()).map_or(Reach::Nowhere, Reach::Panel))
        }
        word if word == WRAP.name => Some(Reach::Panel(Surface::Wrap)),
        word if word == PART.name => Some(element(node, first.map(|name| name.span))),
        word if element_words().any(|known| known.name == word) => Some(element(node, first.map(|name| name.span))),
        _ => None,
    }
}

fn element(node: &Node, name: Option<Span>) -> Reach {
    Reach::Element { whole: node.span, name: name.unwrap_or(node.name.span) }
}
