//! Overlay: a tree laid over another: a cover over its series, an edition over its cover, a title over its template.
//!
//! Trees are lists of keyed nodes. Laying keeps the order of what lies under, replaces or merges what both say, and
//! adds the rest behind; `drop` takes keys away from all that lies under and stays, for a tree may be laid under the
//! result. So laying is associative.

use crate::ground::Spanned;
use crate::source::{Datum, Node, Tree, Value};
use key::{Key, Parent, is_drop};
use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::rc::Rc;

mod judge;
mod key;
#[cfg(test)]
mod laws;

pub use judge::judge_drops;

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

fn lay(under: &[Node], over: &[Node], parent: Parent) -> Vec<Node> {
    let drops = Drops::of(over, parent);
    let mut laid: Vec<Node> = under.iter().filter(|node| !drops.take(node, parent)).cloned().collect();
    bury(&mut laid, over);
    let own: Vec<&Node> = over.iter().filter(|node| !is_drop(node)).collect();
    let places = places(&laid, &own, parent);
    clear_blocks(&mut laid, &own, &places, parent);
    let mut slots: Vec<Vec<Node>> = laid.into_iter().map(|node| vec![node]).collect();
    let mut claims: Vec<Claims> = vec![Claims::new(); own.len()];
    let mut is_done = vec![false; own.len()];
    // First what is there already, for that may move what stands behind it.
    for group in groups(&own, parent) {
        let Some(first) = group.first().filter(|first| !places[**first].is_empty()) else { continue };
        if let (true, Some(within)) = (parent.is_block(own[*first]), parent.within(own[*first])) {
            claim(&slots, &places[*first], &group, &own, within, &mut claims);
        } else {
            let nodes: Vec<&Node> = group.iter().map(|at| own[*at]).collect();
            lay_group(&mut slots, &places[*first], &nodes, parent);
            for at in group {
                is_done[at] = true;
            }
        }
    }
    for (at, node) in own.iter().enumerate().filter(|(at, _)| !is_done[*at]) {
        match parent.within(node) {
            Some(within) if !places[at].is_empty() => lay_block(&mut slots, &claims[at], node, within),
            _ => slots.push(vec![(*node).clone()]),
        }
    }
    slots.into_iter().flatten().collect()
}

/// For each of some nodes: where nodes of its key stand.
fn places(laid: &[Node], own: &[&Node], parent: Parent) -> Vec<Rc<[usize]>> {
    let mut known: BTreeMap<Key<'_>, Vec<usize>> = BTreeMap::new();
    for (at, node) in laid.iter().enumerate() {
        known.entry(parent.key(node)).or_default().push(at);
    }
    let known: BTreeMap<Key<'_>, Rc<[usize]>> = known.into_iter().map(|(key, places)| (key, places.into())).collect();
    own.iter().map(|node| known.get(&parent.key(node)).cloned().unwrap_or_default()).collect()
}

/// The nodes of each key, by their number, in the order in which the keys come up.
fn groups(own: &[&Node], parent: Parent) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut known: BTreeMap<Key<'_>, usize> = BTreeMap::new();
    for (number, node) in own.iter().enumerate() {
        let at = *known.entry(parent.key(node)).or_insert(groups.len());
        match groups.get_mut(at) {
            Some(group) => group.push(number),
            None => groups.push(vec![number]),
        }
    }
    groups
}

/// All that stands under one key, laid over all that stood there, each in a slot of its own.
fn lay_group(slots: &mut Vec<Vec<Node>>, places: &[usize], group: &[&Node], parent: Parent) {
    let ([first, rest @ ..], [node, ..]) = (places, group) else { return };
    if let Some(within) = parent.within(node) {
        // Names that stand twice are reported by the reader; here each meets the one that stands as far down.
        for (at, node) in group.iter().enumerate() {
            match places.get(at) {
                Some(place) => slots[*place].iter_mut().for_each(|under| *under = merge(under, node, within)),
                None => slots.push(vec![(*node).clone()]),
            }
        }
    } else if let ([], [node]) = (rest, group)
        && let Some(within) = parent.adding(node)
    {
        slots[*first].iter_mut().for_each(|under| *under = merge(under, node, within));
    } else {
        for later in rest {
            slots[*later].clear();
        }
        let under = slots[*first].first();
        slots[*first] = group.iter().map(|node| with_what_stays(under, node, parent)).collect();
    }
}

/// A node that is laid over another as a whole, with those properties of the other that stay.
fn with_what_stays(under: Option<&Node>, over: &Node, parent: Parent) -> Node {
    let mut laid = over.clone();
    for (key, value) in under.into_iter().flat_map(|under| &under.properties) {
        if parent.stays(over, &key.value) && over.properties.iter().all(|(own, _)| own.value != key.value) {
            laid.properties.push((key.clone(), value.clone()));
        }
    }
    laid
}

/// Before anything is laid into panels: what the panels over them drop goes.
fn clear_blocks(laid: &mut [Node], own: &[&Node], places: &[Rc<[usize]>], parent: Parent) {
    for (block, places) in own.iter().zip(places).filter(|(node, _)| parent.is_block(node)) {
        let Some(within) = parent.within(block).filter(|_| block.children.iter().any(is_drop)) else { continue };
        let drops = Drops::of(&block.children, within);
        for place in places.iter() {
            laid[*place].children.retain(|child| !drops.take(child, within));
        }
        if let Some(first) = places.first() {
            bury(&mut laid[*first].children, &block.children);
        }
    }
}

/// For each child of a panel that is no drop: the slot and the child in it that it is laid over.
type Claims = Vec<Option<(usize, usize)>>;

/// What the panels of one key say meets what the panels under them say, each once.
fn claim(slots: &[Vec<Node>], places: &[usize], group: &[usize], own: &[&Node], within: Parent, claims: &mut [Claims]) {
    let mut free: BTreeMap<Key<'_>, VecDeque<(usize, usize)>> = BTreeMap::new();
    for place in places {
        for (at, child) in slots[*place].iter().flat_map(|panel| &panel.children).enumerate() {
            free.entry(within.key(child)).or_default().push_back((*place, at));
        }
    }
    for number in group {
        let children = own[*number].children.iter().filter(|child| !is_drop(child));
        let met = children.map(|child| free.get_mut(&within.key(child)).and_then(VecDeque::pop_front));
        claims[*number] = met.collect();
    }
}

/// What a panel says goes where the panel under it says it already; the rest becomes a panel of its own, on top.
fn lay_block(slots: &mut Vec<Vec<Node>>, claims: &Claims, block: &Node, within: Parent) {
    let mut rest = Vec::new();
    for (child, met) in block.children.iter().filter(|child| !is_drop(child)).zip(claims) {
        let Some((place, at)) = met else {
            rest.push(child.clone());
            continue;
        };
        for under in slots[*place].iter_mut().filter_map(|panel| panel.children.get_mut(*at)) {
            *under = match within.within(child) {
                Some(inner) => merge(under, child, inner),
                None => child.clone(),
            };
        }
    }
    if !rest.is_empty() {
        slots.push(vec![Node { children: rest, ..block.clone() }]);
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
