//! `part`: elements drawn once and used in several places.
//!
//! ```kdl
//! part device {
//!     width 24; height 12
//!     oval drop { swatch black; left 0; width 8; top 2; height 8 }
//!     text name words="Tern Passage" { left 10; right 0; top 3 }
//! }
//! panel front {
//!     use device as=front-device { left safe; bottom safe }
//! }
//! panel back {
//!     use device as=back-device { right safe; top safe }
//! }
//! ```
//!
//! `use` places the part as a `group`. Words of place and look in its braces come beside, or instead of, those of the part.

use crate::ground::{Findings, Spanned};
use crate::language::headword::{Headword, NAME, Role, UNLESS, WHEN, element};
use crate::language::look::LOOK;
use crate::language::place::PLACE;
use crate::source::{Besides, Datum, KnownBy, Laid, Node, Reader, Tree, Value, Word, name, offer};
use std::cell::RefCell;
use std::collections::BTreeMap;

pub const HEADWORD: Headword = Headword::new(PART, include_str!("part.rs"), Role::Holder).beside(USE);

pub const PART: Word = Word::new("part", "elements that are drawn once and used in several places")
    .takes(NAME)
    .holds(&[PLACE, LOOK])
    .besides(Besides::Elements)
    .known_by(KnownBy::Name)
    .laid(Laid::Inside);
pub const USE: Word = element("use", "places a part")
    .takes(&[name("a part's name")])
    .properties(&[AS, WHEN, UNLESS])
    .holds(&[PLACE, LOOK])
    .besides(Besides::Elements);
const AS: Word = Word::new("as", "what it is called here, instead of by the name of the part").takes(&[name("a name")]);

/// The parts of a cover, by name.
pub fn parts<'a>(tree: &'a Tree, findings: &RefCell<Findings>) -> BTreeMap<String, &'a Node> {
    let mut parts = BTreeMap::new();
    for node in tree.nodes.iter().filter(|node| node.name.value == PART.name) {
        let reader = Reader::new(node, &PART, findings);
        reader.all_children();
        if let Some(name) = reader.text()
            && parts.insert(name.value.clone(), node).is_some()
        {
            reader.error(name.span, format!("the part `{}` stands here twice", name.value), "give it another name");
        }
    }
    parts
}

/// A `use` for every part that no `use` names, so that its faults are reported.
pub fn unused(tree: &Tree, parts: &BTreeMap<String, &Node>) -> Vec<Node> {
    fn used<'a>(nodes: &'a [Node], names: &mut Vec<&'a str>) {
        for node in nodes {
            if node.name.value == USE.name
                && let Some(Value { datum: Datum::Text(name), .. }) = node.values.first()
            {
                names.push(name);
            }
            used(&node.children, names);
        }
    }
    let mut names = Vec::new();
    used(&tree.nodes, &mut names);
    let lonely = parts.iter().filter(|(name, _)| !names.contains(&name.as_str()));
    let placed = |(name, part): (&String, &&Node)| Node {
        name: Spanned::new(USE.name.to_owned(), part.name.span),
        values: vec![Value { datum: Datum::Text(name.clone()), unit: None, span: part.name.span }],
        properties: Vec::new(),
        children: Vec::new(),
        span: part.span,
    };
    lonely.map(placed).collect()
}

/// The group that a `use` stands for.
pub fn used(node: &Node, parts: &BTreeMap<String, &Node>, findings: &RefCell<Findings>) -> Option<Node> {
    let reader = Reader::new(node, &USE, findings);
    reader.all_children();
    let part = reader.text()?;
    reader.property(&WHEN);
    reader.property(&UNLESS);
    let name = reader.text_property(&AS).unwrap_or_else(|| part.clone());
    let Some(drawn) = parts.get(&part.value) else {
        let known: Vec<&str> = parts.keys().map(String::as_str).collect();
        reader.error(part.span, format!("there is no part `{}`", part.value), offer(&part.value, &known));
        return None;
    };
    let own: Vec<&str> = node.children.iter().map(|child| child.name.value.as_str()).collect();
    let kept = drawn.children.iter().filter(|child| !own.contains(&child.name.value.as_str()));
    Some(Node {
        name: Spanned::new("group".to_owned(), node.name.span),
        values: vec![Value { datum: Datum::Text(name.value), unit: None, span: name.span }],
        properties: node
            .properties
            .iter()
            .filter(|(key, _)| [WHEN.name, UNLESS.name].contains(&key.value.as_str()))
            .cloned()
            .collect(),
        children: node.children.iter().chain(kept).cloned().collect(),
        span: node.span,
    })
}
