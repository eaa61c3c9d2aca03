//! Elements: what stands in a panel or group, read and put in the order of printing.

use crate::cover::{Absent, Element, Look, Reading, Unseen};
use crate::ground::{Findings, Spanned};
use crate::language::context::Context;
use crate::language::headword::{Headword, Role, UNLESS, WHEN};
use crate::language::look::read_look;
use crate::language::nodes::{elements, part};
use crate::language::order::in_order;
use crate::language::place::read_place;
use crate::language::stated::{is_stated, is_there, suppose, unseen};
use crate::scene::Kind;
use crate::source::{Datum, Node, Reader, Word};
use std::cell::RefCell;
use std::sync::Arc;

pub fn read_elements(nodes: &[Node], context: &Context<'_>) -> Vec<Element> {
    let all: Vec<Element> = nodes.iter().filter_map(|node| read_element(node, context)).collect();
    if context.depth == 0 {
        // Panels may stand several times: their elements are put in order together.
        return all;
    }
    in_order(&context.desk, all)
}

pub fn read_element(node: &Node, context: &Context<'_>) -> Option<Element> {
    let asks = |word: &Word| node.properties.iter().find(|(key, _)| key.value == word.name).map(|(_, value)| value);
    if let Some(value) = asks(&WHEN)
        && !is_stated(value, context)
    {
        if let Datum::Text(name) = &value.datum {
            suppose(name, value.span, context, |context| drop(read_element(node, context)));
        }
        return absent(node, context);
    }
    if let Some(value) = asks(&UNLESS)
        && is_there(value, context)
    {
        unseen(context, |context| drop(read_shown(node, context)));
        return absent(node, context);
    }
    read_shown(node, context)
}

/// Reads an element, whatever its `when=` and `unless=` ask.
fn read_shown(node: &Node, context: &Context<'_>) -> Option<Element> {
    if !context.counts(node) {
        return None;
    }
    let used;
    let node = if node.name.value == part::USE.name {
        used = part::used(node, context.parts, context.desk.findings)?;
        &used
    } else {
        node
    };
    let (known, kind, read) = element_of(node)?;
    let reader = Reader::new(node, &known.word, context.desk.findings);
    reader.property(&WHEN);
    reader.property(&UNLESS);
    let name = name(&reader)?;
    let mut look = read_look(&reader);
    let body = read(&reader, context).unwrap_or_else(|| Arc::new(Unseen(kind)));
    let on_spine = context.region.spine && !context.region.inner && kind == Kind::Text;
    if look.turn == 0.0 && (on_spine || body.runs_down()) {
        let reading = if body.runs_down() { Reading::Down } else { context.reading };
        look.turn = reading.turn(context.facts.book.right_to_left() && !body.runs_down());
    }
    let place =
        body.own_place(context.region).unwrap_or_else(|| read_place(&reader, context.region, context.facts, &look));
    Some(Element { name, panel: context.region.name, place, look, body, span: node.span })
}

type Read = fn(&Reader<'_>, &Context<'_>) -> Option<Arc<dyn crate::cover::Draw>>;

fn element_of(node: &Node) -> Option<(&'static Headword, Kind, Read)> {
    let known = elements().find(|known| known.word.name == node.name.value)?;
    if let Role::Element(kind, read) = known.role { Some((known, kind, read)) } else { None }
}

/// What an element is called: by its first word, or `as=` another where it may be.
fn name(reader: &Reader<'_>) -> Option<Spanned<String>> {
    let first = reader.text();
    if first.is_none() {
        reader.skip();
    }
    let other = reader.word.property("as").and_then(|word| reader.text_property(word));
    other.or(first)
}

/// The place of an element that is left out, for its neighbours.
fn absent(node: &Node, context: &Context<'_>) -> Option<Element> {
    // Its slips have been reported.
    let scratch = RefCell::new(Findings::closed());
    let used;
    let node = if node.name.value == part::USE.name {
        used = part::used(node, context.parts, &scratch)?;
        &used
    } else {
        node
    };
    let (known, ..) = element_of(node)?;
    let reader = Reader::new(node, &known.word, &scratch);
    let name = name(&reader)?;
    let look = Look::default();
    let place = read_place(&reader, context.region, context.facts, &look);
    let panel = context.region.name;
    Some(Element { name, panel, place, look, body: Arc::new(Absent), span: node.span })
}
