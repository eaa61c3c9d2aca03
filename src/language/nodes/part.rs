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
//! - `use PART as=NAME`: places the part as a `group` of that name. What `use` says of the place comes beside, or instead
//!   of, what the part says.

use crate::ground::Spanned;
use crate::language::{Node, Role};
use crate::source::{self, Datum, Reader, Value, offer};
use std::cell::RefCell;
use std::collections::BTreeMap;

pub const NODE: Node = Node { name: "part", source: include_str!("part.rs"), role: Role::Holder };

/// The parts of a cover, by name.
pub fn parts<'a>(
    tree: &'a source::Tree,
    findings: &RefCell<crate::ground::Findings>,
) -> BTreeMap<String, &'a source::Node> {
    let mut parts = BTreeMap::new();
    for node in tree.nodes.iter().filter(|node| node.name.value == "part") {
        let reader = Reader::new(node, findings);
        reader.all_children();
        if let Some(name) = reader.text("a name")
            && parts.insert(name.value.clone(), node).is_some()
        {
            reader.error(name.span, format!("the part `{}` is drawn twice", name.value), "give it another name");
        }
    }
    parts
}

/// A `use` for every part that stands in no `use`, so that its faults are told.
pub fn unused(tree: &source::Tree, parts: &BTreeMap<String, &source::Node>) -> Vec<source::Node> {
    fn used<'a>(nodes: &'a [source::Node], names: &mut Vec<&'a str>) {
        for node in nodes {
            if let ("use", Some(Value { datum: Datum::Text(name), .. })) =
                (node.name.value.as_str(), node.values.first())
            {
                names.push(name);
            }
            used(&node.children, names);
        }
    }
    let mut names = Vec::new();
    used(&tree.nodes, &mut names);
    let lonely = parts.iter().filter(|(name, _)| !names.contains(&name.as_str()));
    let placed = |(name, part): (&String, &&source::Node)| source::Node {
        name: Spanned::new("use".to_owned(), part.name.span),
        values: vec![Value { datum: Datum::Text(name.clone()), unit: None, span: part.name.span }],
        properties: Vec::new(),
        children: Vec::new(),
        span: part.span,
    };
    lonely.map(placed).collect()
}

/// The group that a `use` stands for.
pub fn used(
    node: &source::Node,
    parts: &BTreeMap<String, &source::Node>,
    findings: &RefCell<crate::ground::Findings>,
) -> Option<source::Node> {
    let reader = Reader::new(node, findings);
    reader.all_children();
    let part = reader.text("a part's name")?;
    reader.property("when");
    let name = reader.text_property("as").unwrap_or_else(|| part.clone());
    let Some(drawn) = parts.get(&part.value) else {
        let known: Vec<&str> = parts.keys().map(String::as_str).collect();
        reader.error(part.span, format!("there is no part `{}`", part.value), offer(&part.value, &known));
        return None;
    };
    let own: Vec<&str> = node.children.iter().map(|child| child.name.value.as_str()).collect();
    let kept = drawn.children.iter().filter(|child| !own.contains(&child.name.value.as_str()));
    Some(source::Node {
        name: Spanned::new("group".to_owned(), node.name.span),
        values: vec![Value { datum: Datum::Text(name.value), unit: None, span: name.span }],
        properties: node.properties.iter().filter(|(key, _)| key.value == "when").cloned().collect(),
        children: node.children.iter().chain(kept).cloned().collect(),
        span: node.span,
    })
}
