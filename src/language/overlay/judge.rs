//! Judge: drops that find nothing to take away.

use crate::ground::Findings;
use crate::language::overlay::key::{Key, Parent, is_drop};
use crate::source::{Datum, Node, Tree, offer};
use std::collections::BTreeMap;

/// Reports every `drop` that finds nothing in any of the trees under its own. The lowest tree stands first.
pub fn judge_drops(findings: &mut Findings, chain: &[Tree]) {
    for (at, tree) in chain.iter().enumerate() {
        let lower: Vec<&[Node]> = chain[..at].iter().map(|tree| &tree.nodes[..]).collect();
        judge(findings, &tree.nodes, &lower, Parent::TOP);
    }
}

fn judge(findings: &mut Findings, own: &[Node], lower: &[&[Node]], parent: Parent) {
    let holders = |node: &&Node| !is_drop(node) && holds_drops(node) && !parent.is_whole(node);
    let mut below: BTreeMap<Key<'_>, Vec<&[Node]>> = BTreeMap::new();
    if own.iter().any(|node| holders(&node)) {
        for node in lower.iter().copied().flatten() {
            below.entry(parent.key(node)).or_default().push(&node.children);
        }
    }
    for node in own {
        if is_drop(node) {
            let known: Vec<&Node> = lower.iter().copied().flatten().filter(|node| !is_drop(node)).collect();
            judge_drop(findings, node, &known, parent);
        } else if let (Some(within), true) = (parent.within(node), holders(&node)) {
            let same = below.get(&parent.key(node)).map_or(&[][..], Vec::as_slice);
            judge(findings, &node.children, same, within);
        }
    }
}

fn holds_drops(node: &Node) -> bool {
    node.children.iter().any(|child| is_drop(child) || holds_drops(child))
}

fn judge_drop(findings: &mut Findings, node: &Node, known: &[&Node], parent: Parent) {
    if node.values.is_empty() || !node.properties.is_empty() || !node.children.is_empty() {
        findings.error(node.name.span, "`drop` takes names alone", "write `drop ribbon`, or `drop ribbon mark`");
    }
    for value in &node.values {
        let Datum::Text(name) = &value.datum else {
            findings.error(value.span, format!("`drop` takes a name, not {}", value.shown()), "write `drop ribbon`");
            continue;
        };
        if !known.iter().any(|node| parent.drops(name, node)) {
            let names: Vec<&str> = known.iter().map(|node| parent.name(node)).collect();
            let message = format!("there is nothing called `{name}` to drop here");
            let help = if names.is_empty() {
                "nothing lies under this: `drop` takes away what a series says in the same place".to_owned()
            } else {
                offer(name, &names)
            };
            findings.error(value.span, message, help);
        }
    }
}
