//! Elements: what stands in a panel or group, read and put in the order of printing.

use crate::assets::nearest;
use crate::cover::{Absent, Element, Facts, Look, Order, Unseen};
use crate::ground::{Finding, Severity, Span, Spanned};
use crate::language::nodes::{each, elements, part};
use crate::language::read_look;
use crate::language::read_place;
use crate::language::{Context, Desk, ELEMENT_LIMIT, Role, USUAL_FACTS};
use crate::scene::Kind;
use crate::source::{Datum, Node, Reader, Value, offer};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Everything that may stand in a panel, `use` included.
pub fn element_words() -> impl Iterator<Item = &'static str> {
    elements().map(|node| node.name).chain(["use"])
}

pub fn read_elements(nodes: &[Node], context: &Context<'_>) -> Vec<Element> {
    let all: Vec<Element> = nodes.iter().filter_map(|node| read_element(node, context)).collect();
    if context.depth == 0 {
        // Panels may stand several times: their elements are put in order together.
        return all;
    }
    in_order(&context.desk, all)
}

pub fn read_element(node: &Node, context: &Context<'_>) -> Option<Element> {
    let facts = context.facts;
    if let Some((_, value)) = node.properties.iter().find(|(key, _)| key.value == "when")
        && !is_stated(value, context)
    {
        if let Datum::Text(name) = &value.datum {
            suppose(name, value.span, context, |context| drop(read_element(node, context)));
        }
        return absent(node, context);
    }
    if !counted(node, context) {
        return None;
    }
    let used;
    let node = if node.name.value == "use" {
        used = part::used(node, context.parts, context.desk.findings)?;
        &used
    } else {
        node
    };
    let known = elements().find(|known| known.name == node.name.value)?;
    let Role::Element(read) = known.role else { return None };
    let reader = Reader::new(node, context.desk.findings);
    reader.property("when");
    let name = if known.name == "each" { each::name(&reader)? } else { reader.text("a name")? };
    let place = read_place(&reader, context.region, facts);
    let mut look = read_look(&reader);
    if context.region.spine && !context.region.inner && known.name == "text" && look.turn == 0.0 {
        look.turn = context.reading.turn(facts.book.right_to_left());
    }
    let body = read(&reader, context).unwrap_or_else(|| Arc::new(Unseen(kind(known.name))));
    Some(Element { name, panel: context.region.name.clone(), place, look, body, span: node.span })
}

/// What an element would have been, by its word.
fn kind(word: &str) -> Kind {
    match word {
        "text" => Kind::Text,
        "image" => Kind::Picture,
        "barcode" => Kind::BarCode,
        _ => Kind::Shape,
    }
}

/// Whether the fact that a `when=` asks for is stated; a name that is nearly that of a fact is a slip.
pub fn is_stated(value: &Value, context: &Context<'_>) -> bool {
    let Datum::Text(name) = &value.datum else {
        let message = format!("`when=` names a fact, not {}", value.shown());
        context.desk.findings.borrow_mut().error(value.span, message, "write when=subtitle, or when=quote");
        return true;
    };
    if let Some(fact) = negated(name) {
        let message = format!("`when=` asks whether a fact is stated, never whether it is not: {name:?} is no fact");
        let help = format!(
            "leave `when` out; or state a fact of your own where `{fact}` is missing, `fact without-{fact} \"yes\"` in \
             `book`, and write when=without-{fact}"
        );
        context.desk.findings.borrow_mut().error(value.span, message, help);
        return true;
    }
    let words = &context.facts.book.words;
    let head = name.split('.').next().unwrap_or_default();
    if !words.contains_key(name) && !USUAL_FACTS.contains(&head) {
        let known = words.keys().map(String::as_str).chain(USUAL_FACTS);
        let (severity, meant) = match nearest(name, known) {
            Some(near) => (Severity::Warning, format!("did you mean `{near}`? If not, ")),
            None => (Severity::Note, "if it should be, ".to_owned()),
        };
        let message = format!("the book does not state `{name}`, so this is left out");
        let help = format!("{meant}state it empty: `fact {name} \"\"`");
        context.desk.findings.borrow_mut().push(Finding::new(severity, "language", value.span, message).help(help));
    }
    context.facts.book.word(name).is_some()
}

/// The fact that a `when=` wants to be lacking: `!subtitle`, `not subtitle`.
fn negated(name: &str) -> Option<&str> {
    let fact = name.strip_prefix('!').or_else(|| name.strip_prefix("not "))?.trim();
    (!fact.is_empty()).then_some(fact)
}

/// What is left out is read all the same, as if its fact were stated, so that its slips are told today.
pub fn suppose(name: &str, span: Span, context: &Context<'_>, read: impl FnOnce(&Context<'_>)) {
    // A bar code cannot be read without a true number.
    if name.starts_with("isbn") {
        return;
    }
    let facts = Facts { book: context.facts.book.supposing(name, span), ..context.facts.clone() };
    let scratch = RefCell::default();
    let desk = Desk { findings: &scratch, ..context.desk };
    read(&Context { desk, facts: &facts, ..*context });
    let told = scratch.into_inner();
    context.desk.findings.borrow_mut().extend(told.iter().filter(|finding| finding.rule == "language").cloned());
}

/// The place of an element that is left out, for its neighbours.
fn absent(node: &Node, context: &Context<'_>) -> Option<Element> {
    // Its slips have been told.
    let scratch = RefCell::default();
    let used;
    let node = if node.name.value == "use" {
        used = part::used(node, context.parts, &scratch)?;
        &used
    } else {
        node
    };
    let reader = Reader::new(node, &scratch);
    let name = if node.name.value == "each" { each::name(&reader)? } else { reader.text("a name")? };
    let place = read_place(&reader, context.region, context.facts);
    let panel = context.region.name.clone();
    Some(Element { name, panel, place, look: Look::default(), body: Arc::new(Absent), span: node.span })
}

/// Counts an element; beyond the limit there are no more.
pub fn counted(node: &Node, context: &Context<'_>) -> bool {
    context.count.set(context.count.get() + 1);
    if context.count.get() == ELEMENT_LIMIT + 1 {
        let message = format!("the cover has more than {ELEMENT_LIMIT} elements; the rest is left out");
        let help = "a part that uses itself, or parts and lists many times within each other, come to this";
        context.desk.findings.borrow_mut().error(node.name.span, message, help);
    }
    context.count.get() <= ELEMENT_LIMIT
}

/// As they lie on paper; names that stand twice are reported.
pub fn in_order(desk: &Desk<'_>, all: Vec<Element>) -> Vec<Element> {
    report_twins(desk, &all);
    reorder(desk, all)
}

fn report_twins(desk: &Desk<'_>, all: &[Element]) {
    let mut seen: BTreeMap<(&str, &str), Span> = BTreeMap::new();
    for element in all.iter().filter(|element| !element.body.absent()) {
        let key = (element.panel.as_str(), element.name.value.as_str());
        if seen.insert(key, element.name.span).is_some() {
            let message = format!("`{}` has two elements called `{}`", element.panel, element.name.value);
            desk.findings.borrow_mut().error(
                element.name.span,
                message,
                "give one of them another name; if one is the series', `drop` it first",
            );
        }
    }
}

/// `under` and `over` move an element next to another in the order of printing.
fn reorder(desk: &Desk<'_>, mut all: Vec<Element>) -> Vec<Element> {
    let moved: Vec<(String, Spanned<String>, Order)> = all
        .iter()
        .filter_map(|element| Some((element.panel.clone(), element.name.clone(), element.look.order.clone()?)))
        .collect();
    for (panel, name, order) in moved {
        let (target, above) = match &order {
            Order::Under(target) => (target, false),
            Order::Over(target) => (target, true),
        };
        let is = |element: &Element| element.panel == panel && element.name == name && !element.body.absent();
        let Some(from) = all.iter().position(is) else { continue };
        let element = all.remove(from);
        let same_panel = all.iter().position(|other| other.panel == panel && other.name.value == target.value);
        let found = same_panel.or_else(|| all.iter().position(|other| other.name.value == target.value));
        if let Some(at) = found {
            all.insert(at + usize::from(above), element);
            continue;
        }
        let known: Vec<&str> = all.iter().map(|element| element.name.value.as_str()).collect();
        let message =
            format!("there is no element `{}` to lie {} ", target.value, if above { "over" } else { "under" });
        desk.findings.borrow_mut().error(target.span, message.trim_end(), offer(&target.value, &known));
        all.insert(from, element);
    }
    all
}
