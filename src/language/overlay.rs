//! Overlay: a tree laid over another: a cover over its series, an edition over its cover, a title over its template.
//!
//! Trees are lists of keyed nodes. Laying keeps the order of what lies under, replaces or merges what both say, and
//! adds the rest behind; `drop` takes keys away from all that lies under and stays, for a tree may be laid under the
//! result. So laying is associative.

use crate::ground::{Findings, Spanned};
use crate::source::{Datum, Node, Tree, Value, offer};
use key::{Key, Parent};
use std::collections::{BTreeMap, BTreeSet};

mod key;
#[cfg(test)]
mod laws;

/// What both say, `over` says.
pub fn overlay(under: &Tree, over: &Tree) -> Tree {
    Tree { nodes: lay(&under.nodes, &over.nodes, Parent::TOP) }
}

/// A laid tree without the drops that have done their work, and without the panels that they emptied.
pub fn settled(tree: &Tree) -> Tree {
    Tree { nodes: settle(&tree.nodes, Parent::TOP) }
}

fn settle(nodes: &[Node], parent: Parent) -> Vec<Node> {
    let own: Vec<&Node> = nodes.iter().filter(|node| !is_drop(node)).collect();
    let empty = |node: &Node| node.children.iter().all(is_drop);
    let full: BTreeSet<Key<'_>> = own.iter().filter(|node| !empty(node)).map(|node| parent.key(node)).collect();
    let mut earlier: BTreeSet<Key<'_>> = BTreeSet::new();
    let kept = own.iter().copied().filter(|node| {
        let key = parent.key(node);
        let is_first = earlier.insert(key);
        !(parent.is_block(node) && empty(node) && (full.contains(&key) || !is_first))
    });
    kept.map(|node| match parent.within(node) {
        Some(within) => Node { children: settle(&node.children, within), ..node.clone() },
        None => node.clone(),
    })
    .collect()
}

/// Tells every `drop` that finds nothing in any of the trees under its own. The lowest tree stands first.
pub fn judge_drops(findings: &mut Findings, chain: &[Tree]) {
    for (at, tree) in chain.iter().enumerate() {
        let lower: Vec<&[Node]> = chain[..at].iter().map(|tree| &tree.nodes[..]).collect();
        judge(findings, &tree.nodes, &lower, Parent::TOP);
    }
}

fn judge(findings: &mut Findings, own: &[Node], lower: &[&[Node]], parent: Parent) {
    for node in own {
        if is_drop(node) {
            let known: Vec<&Node> = lower.iter().copied().flatten().filter(|node| !is_drop(node)).collect();
            judge_drop(findings, node, &known, parent);
        } else if let (Some(within), false) = (parent.within(node), parent.is_whole(node)) {
            let key = parent.key(node);
            let same = lower.iter().copied().flatten().filter(|other| parent.key(other) == key);
            let lower: Vec<&[Node]> = same.map(|other| &other.children[..]).collect();
            judge(findings, &node.children, &lower, within);
        }
    }
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

fn lay<'a>(under: &[Node], over: &'a [Node], parent: Parent) -> Vec<Node> {
    let drops = Drops::of(over, parent);
    let mut laid: Vec<Node> = under.iter().filter(|node| !drops.take(node, parent)).cloned().collect();
    bury(&mut laid, over);
    let own: Vec<&Node> = over.iter().filter(|node| !is_drop(node)).collect();
    clear_blocks(&mut laid, &own, parent);
    let groups = groups(&own, parent);
    let key = |group: &Vec<&'a Node>| group.first().map(|node| parent.key(node));
    let standing: BTreeSet<Key<'_>> = laid.iter().map(|node| parent.key(node)).collect();
    // First what is there already, for that may move what stands behind it.
    let (known, fresh): (Vec<_>, Vec<_>) =
        groups.into_iter().partition(|group| key(group).is_some_and(|key| standing.contains(&key)));
    let (blocks, known): (Vec<_>, Vec<_>) =
        known.into_iter().partition(|group| group.iter().any(|node| parent.is_block(node)));
    let (blocks, fresh): (BTreeSet<_>, BTreeSet<_>) =
        (blocks.iter().filter_map(key).collect(), fresh.iter().filter_map(key).collect());
    for group in &known {
        lay_group(&mut laid, group, parent);
    }
    let older = laid.len();
    let mut claimed = BTreeSet::new();
    for node in &own {
        if blocks.contains(&parent.key(node)) {
            lay_block(&mut laid, older, node, parent, &mut claimed);
        } else if fresh.contains(&parent.key(node)) {
            laid.push((*node).clone());
        }
    }
    laid
}

/// The nodes of each key, in the order in which the keys come up.
fn groups<'a>(own: &[&'a Node], parent: Parent) -> Vec<Vec<&'a Node>> {
    let mut groups: Vec<Vec<&'a Node>> = Vec::new();
    let mut known: BTreeMap<Key<'a>, usize> = BTreeMap::new();
    for node in own {
        let at = *known.entry(parent.key(node)).or_insert(groups.len());
        match groups.get_mut(at) {
            Some(group) => group.push(node),
            None => groups.push(vec![node]),
        }
    }
    groups
}

/// All that stands under one key, laid over all that stood there.
fn lay_group(laid: &mut Vec<Node>, group: &[&Node], parent: Parent) {
    let Some(first) = group.first() else { return };
    let places = places(laid, parent.key(first), parent);
    if let Some(within) = parent.within(first) {
        // Names that stand twice are reported by the reader; here each meets the one that stands as far down.
        for (at, node) in group.iter().enumerate() {
            match places.get(at) {
                Some(place) => laid[*place] = merge(&laid[*place], node, within),
                None => laid.push((*node).clone()),
            }
        }
    } else if let ([place], [node]) = (&places[..], group)
        && let Some(within) = parent.adding(node)
    {
        laid[*place] = merge(&laid[*place], node, within);
    } else if let Some(place) = places.first() {
        places.iter().skip(1).rev().for_each(|later| {
            laid.remove(*later);
        });
        laid.splice(place..=place, group.iter().map(|node| (*node).clone()));
    } else {
        laid.extend(group.iter().map(|node| (*node).clone()));
    }
}

fn places(laid: &[Node], key: Key<'_>, parent: Parent) -> Vec<usize> {
    laid.iter().enumerate().filter(|(_, node)| parent.key(node) == key).map(|(at, _)| at).collect()
}

/// Before anything is laid into panels: what the panels over them drop goes.
fn clear_blocks(laid: &mut [Node], own: &[&Node], parent: Parent) {
    for block in own.iter().filter(|node| parent.is_block(node)) {
        let (key, Some(within)) = (parent.key(block), parent.within(block)) else { continue };
        let drops = Drops::of(&block.children, within);
        let mut first = true;
        for node in laid.iter_mut().filter(|node| parent.key(node) == key) {
            node.children.retain(|child| !drops.take(child, within));
            if first {
                bury(&mut node.children, &block.children);
            }
            first = false;
        }
    }
}

/// What a panel says goes where the panel under it says it already; the rest becomes a panel of its own, on top.
fn lay_block(laid: &mut Vec<Node>, older: usize, block: &Node, parent: Parent, claimed: &mut BTreeSet<(usize, usize)>) {
    let (key, Some(within)) = (parent.key(block), parent.within(block)) else { return };
    let places: Vec<usize> = places(&laid[..older], key, parent);
    let mut rest = Vec::new();
    for child in block.children.iter().filter(|child| !is_drop(child)) {
        let known = places.iter().flat_map(|place| {
            let children = laid[*place].children.iter().enumerate();
            children.filter(|(_, other)| within.key(other) == within.key(child)).map(|(at, _)| (*place, at))
        });
        let Some(place) = known.into_iter().find(|place| !claimed.contains(place)) else {
            rest.push(child.clone());
            continue;
        };
        claimed.insert(place);
        let slot = &mut laid[place.0].children[place.1];
        *slot = match within.within(child) {
            Some(inner) => merge(slot, child, inner),
            None => child.clone(),
        };
    }
    if !rest.is_empty() {
        laid.push(Node { children: rest, ..block.clone() });
    }
}

fn merge(under: &Node, over: &Node, parent: Parent) -> Node {
    let mut values = if over.values.is_empty() || is_shorter(under, over) { under } else { over }.values.clone();
    if let (Some(value), Some(own)) = (values.first_mut(), over.values.first()) {
        *value = own.clone();
    }
    // A text takes its words from one place, a property or a word inside: who writes one takes the other away.
    let written = over.properties.iter().map(|(key, _)| key).chain(over.children.iter().map(|child| &child.name));
    let shared: Vec<&str> = parent.fixed_by_properties().collect();
    let fixed: Vec<&str> =
        written.filter_map(|name| parent.fixing(&name.value)).filter(|what| shared.contains(what)).collect();
    let kept = |name: &str| parent.fixing(name).is_none_or(|what| !fixed.contains(&what));
    let mut properties: Vec<(Spanned<String>, Value)> =
        under.properties.iter().filter(|(key, _)| kept(&key.value)).cloned().collect();
    for (key, value) in &over.properties {
        properties.retain(|(known, _)| known != key);
        properties.push((key.clone(), value.clone()));
    }
    let children: Vec<Node> = under.children.iter().filter(|child| kept(&child.name.value)).cloned().collect();
    let children = lay(&children, &over.children, parent);
    Node { name: over.name.clone(), values, properties, children, span: over.span }
}

/// Names alone: what stands after the name under it stays.
fn is_shorter(under: &Node, over: &Node) -> bool {
    over.values.len() == 1 && under.values.len() > 1
}

fn is_drop(node: &Node) -> bool {
    node.name.value == "drop"
}

/// What drops among some nodes take away.
struct Drops<'a> {
    names: BTreeSet<&'a str>,
    /// The axes and the like that words among the names fix.
    fixed: BTreeSet<&'static str>,
}

impl<'a> Drops<'a> {
    fn of(over: &'a [Node], parent: Parent) -> Drops<'a> {
        let names: BTreeSet<&str> = names(over).collect();
        Drops { fixed: names.iter().filter_map(|name| parent.fixing(name)).collect(), names }
    }

    fn take(&self, node: &Node, parent: Parent) -> bool {
        if self.names.is_empty() || is_drop(node) {
            return false;
        }
        let Key { kind, name } = parent.key(node);
        match name {
            Some(name) => self.names.contains(name),
            None => self.names.contains(node.name.value.as_str()) || self.fixed.contains(kind),
        }
    }
}

/// What drops among these nodes take away.
fn names(nodes: &[Node]) -> impl Iterator<Item = &str> {
    nodes.iter().filter(|node| is_drop(node)).flat_map(|node| &node.values).filter_map(|value| match &value.datum {
        Datum::Text(name) => Some(name.as_str()),
        _ => None,
    })
}

/// Keeps drops among what they were laid over, each name once.
fn bury(laid: &mut Vec<Node>, over: &[Node]) {
    for node in over.iter().filter(|node| is_drop(node)) {
        let values: Vec<Value> = node.values.iter().filter(|value| !names_value(laid, value)).cloned().collect();
        if !values.is_empty() {
            laid.insert(0, Node { values, ..node.clone() });
        }
    }
}

fn names_value(laid: &[Node], value: &Value) -> bool {
    laid.iter().filter(|node| is_drop(node)).any(|node| node.values.contains(value))
}
