//! Overlay: a tree laid over another: a cover over its series, an edition over its cover, a title over its template.
//!
//! Trees are lists of keyed nodes. Laying keeps the order of what lies under, replaces or merges what both say, and
//! adds the rest behind; `drop` takes keys away from all that lies under and stays, for a tree may be laid under the
//! result. So laying is associative.

use crate::ground::{Findings, Spanned};
use crate::source::{Datum, Node, Tree, Value, offer};
use key::{Key, Level};
use std::collections::BTreeSet;

mod key;
#[cfg(test)]
mod laws;

/// What both say, `over` says.
pub fn overlay(under: &Tree, over: &Tree) -> Tree {
    Tree { nodes: lay(&under.nodes, &over.nodes, Level::Top) }
}

/// A laid tree without the drops that have done their work, and without the panels that they emptied.
pub fn settled(tree: &Tree) -> Tree {
    Tree { nodes: settle(&tree.nodes, Level::Top) }
}

fn settle(nodes: &[Node], level: Level) -> Vec<Node> {
    let own: Vec<&Node> = nodes.iter().filter(|node| !is_drop(node)).collect();
    let empty = |node: &Node| node.children.iter().all(is_drop);
    let idle = |at: usize| {
        let same = |other: &&&Node| level.key(other) == level.key(own[at]);
        level.is_block(own[at])
            && empty(own[at])
            && (own.iter().filter(same).any(|other| !empty(other)) || own[..at].iter().any(|other| same(&other)))
    };
    let kept = (0..own.len()).filter(|at| !idle(*at)).map(|at| own[at]);
    kept.map(|node| match level.within(node) {
        Some(within) => Node { children: settle(&node.children, within), ..node.clone() },
        None => node.clone(),
    })
    .collect()
}

/// Tells every `drop` that finds nothing in any of the trees under its own. The lowest tree stands first.
pub fn judge_drops(findings: &mut Findings, chain: &[Tree]) {
    for (at, tree) in chain.iter().enumerate() {
        let lower: Vec<&[Node]> = chain[..at].iter().map(|tree| &tree.nodes[..]).collect();
        judge(findings, &tree.nodes, &lower, Level::Top);
    }
}

/// Judged when it is laid over its cover.
const EDITION: &str = "edition";

fn judge(findings: &mut Findings, own: &[Node], lower: &[&[Node]], level: Level) {
    for node in own {
        if is_drop(node) {
            let known: Vec<&Node> = lower.iter().copied().flatten().filter(|node| !is_drop(node)).collect();
            judge_drop(findings, node, &known, level);
        } else if let (Some(within), true) = (level.within(node), node.name.value != EDITION) {
            let key = level.key(node);
            let same = lower.iter().copied().flatten().filter(|other| level.key(other) == key);
            let lower: Vec<&[Node]> = same.map(|other| &other.children[..]).collect();
            judge(findings, &node.children, &lower, within);
        }
    }
}

fn judge_drop(findings: &mut Findings, node: &Node, known: &[&Node], level: Level) {
    if node.values.is_empty() || !node.properties.is_empty() || !node.children.is_empty() {
        findings.error(node.name.span, "`drop` takes names alone", "write `drop ribbon`, or `drop ribbon mark`");
    }
    for value in &node.values {
        let Datum::Text(name) = &value.datum else {
            findings.error(value.span, format!("`drop` takes a name, not {}", value.shown()), "write `drop ribbon`");
            continue;
        };
        if !known.iter().any(|node| level.drops(name, node)) {
            let names: Vec<&str> = known.iter().map(|node| level.name(node)).collect();
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

fn lay(under: &[Node], over: &[Node], level: Level) -> Vec<Node> {
    let mut laid: Vec<Node> = under.iter().filter(|node| !dropped(over, node, level)).cloned().collect();
    bury(&mut laid, over);
    let own: Vec<&Node> = over.iter().filter(|node| !is_drop(node)).collect();
    clear_blocks(&mut laid, &own, level);
    let groups = groups(&own, level);
    // First what is there already, for that may move what stands behind it.
    let (known, fresh): (Vec<_>, Vec<_>) = groups
        .into_iter()
        .partition(|group| group.iter().any(|node| !places(&laid, level.key(node), level).is_empty()));
    let (blocks, known): (Vec<_>, Vec<_>) =
        known.into_iter().partition(|group| group.iter().any(|node| level.is_block(node)));
    for group in &known {
        lay_group(&mut laid, group, level);
    }
    let older = laid.len();
    let mut claimed = BTreeSet::new();
    for node in &own {
        let is = |group: &Vec<&Node>| group.iter().any(|other| std::ptr::eq(*other, *node));
        if blocks.iter().any(is) {
            lay_block(&mut laid, older, node, level, &mut claimed);
        } else if fresh.iter().any(is) {
            laid.push((*node).clone());
        }
    }
    laid
}

/// The nodes of each key, in the order in which the keys come up.
fn groups<'a>(own: &[&'a Node], level: Level) -> Vec<Vec<&'a Node>> {
    let mut groups: Vec<(Key<'a>, Vec<&'a Node>)> = Vec::new();
    for node in own {
        let key = level.key(node);
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, group)) => group.push(node),
            None => groups.push((key, vec![node])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

/// All that is said under one key, over all that was.
fn lay_group(laid: &mut Vec<Node>, group: &[&Node], level: Level) {
    let Some(first) = group.first() else { return };
    let places = places(laid, level.key(first), level);
    if let Some(within) = level.within(first) {
        // Names that stand twice are told by the reader; here each meets the one that stands as far down.
        for (at, node) in group.iter().enumerate() {
            match places.get(at) {
                Some(place) => laid[*place] = merge(&laid[*place], node, within),
                None => laid.push((*node).clone()),
            }
        }
    } else if let ([place], [node]) = (&places[..], group)
        && level.says_more(node)
    {
        laid[*place] = merge(&laid[*place], node, Level::Words);
    } else if let Some(place) = places.first() {
        places.iter().skip(1).rev().for_each(|later| {
            laid.remove(*later);
        });
        laid.splice(place..=place, group.iter().map(|node| (*node).clone()));
    } else {
        laid.extend(group.iter().map(|node| (*node).clone()));
    }
}

fn places(laid: &[Node], key: Key<'_>, level: Level) -> Vec<usize> {
    laid.iter().enumerate().filter(|(_, node)| level.key(node) == key).map(|(at, _)| at).collect()
}

/// Before anything is laid into panels: what the panels over them drop goes.
fn clear_blocks(laid: &mut [Node], own: &[&Node], level: Level) {
    for block in own.iter().filter(|node| level.is_block(node)) {
        let (key, Some(within)) = (level.key(block), level.within(block)) else { continue };
        let mut first = true;
        for node in laid.iter_mut().filter(|node| level.key(node) == key) {
            node.children.retain(|child| is_drop(child) || !dropped(&block.children, child, within));
            if first {
                bury(&mut node.children, &block.children);
            }
            first = false;
        }
    }
}

/// What a panel says goes where the panel under it says it already; the rest becomes a panel of its own, on top.
fn lay_block(laid: &mut Vec<Node>, older: usize, block: &Node, level: Level, claimed: &mut BTreeSet<(usize, usize)>) {
    let (key, Some(within)) = (level.key(block), level.within(block)) else { return };
    let places: Vec<usize> = places(&laid[..older], key, level);
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

fn merge(under: &Node, over: &Node, level: Level) -> Node {
    let mut values = if over.values.is_empty() || is_shorter(under, over) { under } else { over }.values.clone();
    if let (Some(value), Some(own)) = (values.first_mut(), over.values.first()) {
        *value = own.clone();
    }
    let anew = says_words(over);
    let kept = |key: &str| !(anew && WORDS.contains(&key));
    let mut properties: Vec<(Spanned<String>, Value)> =
        under.properties.iter().filter(|(key, _)| kept(&key.value)).cloned().collect();
    for (key, value) in &over.properties {
        properties.retain(|(known, _)| known != key);
        properties.push((key.clone(), value.clone()));
    }
    let children: Vec<Node> = under.children.iter().filter(|child| kept(&child.name.value)).cloned().collect();
    let children = lay(&children, &over.children, level);
    Node { name: over.name.clone(), values, properties, children, span: over.span }
}

/// Names alone: what stands after the name under it stays.
fn is_shorter(under: &Node, over: &Node) -> bool {
    over.values.len() == 1 && under.values.len() > 1
}

/// A text takes its words from one place; who says another takes the old one away.
const WORDS: [&str; 3] = ["words", "copy", "stand-in"];

fn says_words(node: &Node) -> bool {
    let properties = node.properties.iter().map(|(key, _)| &key.value);
    properties.chain(node.children.iter().map(|child| &child.name.value)).any(|word| WORDS.contains(&word.as_str()))
}

fn is_drop(node: &Node) -> bool {
    node.name.value == "drop"
}

fn dropped(over: &[Node], node: &Node, level: Level) -> bool {
    !is_drop(node) && names(over).any(|name| level.drops(name, node))
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
