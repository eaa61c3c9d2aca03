//! Drawings that would exhaust stack, memory or patience, refused before anything walks them.

use crate::assets::{PictureFault, decode};
use std::collections::BTreeMap;
use usvg::roxmltree::{Attribute, Document, Node};

/// Pieces of XML in a file: elements, texts, comments.
pub const NODE_LIMIT: u32 = 1_000_000;
/// Elements in elements; the readers walk them by recursion.
const DEPTH_LIMIT: usize = 256;
/// Elements after every reference has been followed.
const SIZE_LIMIT: u64 = 500_000;
/// Units from the origin. An arc far beyond is cut into more pieces than memory holds.
const REACH_LIMIT: f64 = 1e9;

pub fn shallow(text: &str) -> Result<(), PictureFault> {
    let (mut depth, mut deepest) = (0_usize, 0);
    for part in text.split('<').skip(1) {
        match part.as_bytes() {
            [b'/', ..] => depth = depth.saturating_sub(1),
            [b'!' | b'?', ..] => {}
            _ if part.split('>').next().is_some_and(|tag| tag.ends_with('/')) => {}
            _ => depth += 1,
        }
        deepest = deepest.max(depth);
    }
    if deepest > DEPTH_LIMIT {
        let message = format!("the SVG nests elements {deepest} deep; the limit is {DEPTH_LIMIT}");
        return Err(decode::fault(message, "ungroup what needs no group"));
    }
    Ok(())
}

pub fn near(document: &Document<'_>) -> Result<(), PictureFault> {
    for attribute in document.descendants().flat_map(|node| node.attributes()) {
        // A colour such as #91e63f is no number.
        let measures = attribute.value().split(';').filter(|part| !part.contains('#'));
        let named = matches!(attribute.name(), "id" | "class" | "href");
        if !named && measures.flat_map(numbers).any(|number| number > REACH_LIMIT) {
            let line = document.text_pos_at(attribute.range().start).row;
            let message = format!("the SVG has a number beyond all measure in line {line}, in `{}`", attribute.name());
            return Err(decode::fault(message, "draw it nearer to the origin"));
        }
    }
    Ok(())
}

/// The numbers in an attribute, without their signs.
fn numbers(text: &str) -> impl Iterator<Item = f64> {
    let bytes = text.as_bytes();
    let digits = move |mut at: usize| {
        while bytes.get(at).is_some_and(u8::is_ascii_digit) {
            at += 1;
        }
        at
    };
    let mut at = 0;
    std::iter::from_fn(move || {
        at += bytes.get(at..)?.iter().position(u8::is_ascii_digit)?;
        let start = at;
        at = digits(at);
        if bytes.get(at) == Some(&b'.') {
            at = digits(at + 1);
        }
        if let Some(b'e' | b'E') = bytes.get(at) {
            let sign = usize::from(matches!(bytes.get(at + 1), Some(b'+' | b'-')));
            let end = digits(at + 1 + sign);
            at = if end > at + 1 + sign { end } else { at };
        }
        text[start..at].parse().ok()
    })
}

/// Few elements may stand for very many: `use` of groups of `use`, clips of clipped shapes, a marker at every corner.
pub fn counted(document: &Document<'_>) -> Result<(), PictureFault> {
    let named = document.descendants().filter_map(|node| Some((node.attribute("id")?, node))).collect();
    let mut count = Count { named, known: BTreeMap::new() };
    if count.of(document.root_element(), 0).is_none_or(|total| total > SIZE_LIMIT) {
        let message = format!("the SVG stands for more than {SIZE_LIMIT} elements, or for itself in itself");
        return Err(decode::fault(message, "simplify it, or place it as a picture"));
    }
    Ok(())
}

struct Count<'a, 'input> {
    named: BTreeMap<&'a str, Node<'a, 'input>>,
    known: BTreeMap<usize, u64>,
}

impl<'a, 'input> Count<'a, 'input> {
    /// How many elements one stands for; `None` beyond counting.
    fn of(&mut self, node: Node<'a, 'input>, depth: usize) -> Option<u64> {
        let key = node.id().get_usize();
        if let Some(count) = self.known.get(&key) {
            return Some(*count);
        }
        if depth > 2 * DEPTH_LIMIT {
            return None;
        }
        let mut total = 1_u64;
        for child in node.children().filter(Node::is_element) {
            total = total.checked_add(self.of(child, depth + 1)?)?;
        }
        for attribute in node.attributes() {
            if let Some(target) = target(&attribute).and_then(|name| self.named.get(name)).copied() {
                let each = self.of(target, depth + 1)?;
                let times = if attribute.value().contains("marker") || attribute.name().starts_with("marker") {
                    node.attribute("d").or(node.attribute("points")).map_or(1, str::len) as u64
                } else {
                    1
                };
                total = total.checked_add(each.checked_mul(times)?)?;
            }
        }
        self.known.insert(key, total);
        Some(total)
    }
}

/// The name an attribute refers to: `#name`, or `url(#name)` in whatever stands around it.
fn target<'a>(attribute: &Attribute<'a, '_>) -> Option<&'a str> {
    let value = attribute.value().trim();
    if attribute.name() == "href" {
        return value.strip_prefix('#');
    }
    let (_, name) = value.split_once("url(")?;
    let name = name.split(')').next()?.trim_matches(['"', '\'', ' ']);
    name.strip_prefix('#')
}
