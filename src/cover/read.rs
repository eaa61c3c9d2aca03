//! Tree to Cover: facts first, then the elements, which find the facts ready.

use crate::cover::nodes::{NODES, elements, panel::reads, part};
use crate::cover::{
    Book, Context, Cover, Desk, ELEMENT_LIMIT, Element, Facts, Format, Guides, Look, Measure, Order, Palette, Place,
    Press, Reading, Role, flat,
};
use crate::ground::{Span, Spanned};
use crate::source::{Node, Reader, Tree, Value, offer};
use std::cell::Cell;
use std::collections::BTreeMap;

/// Reads a whole cover. What is wrong is reported and gets its usual value.
pub fn read(desk: &Desk<'_>, tree: &Tree) -> Cover {
    let mut facts = usual_facts(desk);
    for node in NODES {
        let Role::Fact(read) = node.role else { continue };
        let mut said = tree.nodes.iter().filter(|said| said.name.value == node.name);
        if let Some(first) = said.next() {
            read(&Reader::new(first, desk.findings), &mut facts, desk);
        } else if matches!(node.name, "book" | "format") {
            let at = tree.nodes.first().map_or(Span::default(), |node| node.name.span);
            let message = format!("the cover lacks its `{}`", node.name);
            let least = if node.name == "book" {
                "book { title \"…\"; pages 312 }"
            } else {
                "format paperback { trim 129 198 }"
            };
            let help = format!("write `{least}` at least; see `jaconet explain {}`", node.name);
            desk.findings.borrow_mut().error(at, message, help);
        }
        for again in said {
            let message = format!("`{}` stands here a second time", node.name);
            desk.findings.borrow_mut().error(again.name.span, message, "say it all in one place");
        }
    }
    let spine = facts.format.spine(facts.book.pages.value, facts.book.extent);
    let mut flat = flat(&facts.format, &spine, facts.book.right_to_left());
    let reading = spine_reading(tree, &facts);
    if flat.sheet.panel("spine").is_some() {
        let turn = reading.0.turn(facts.book.right_to_left());
        let why = format!("reads {}: {}", reading.0.word(), reading.1);
        flat.measures.push(Measure::turn("spine turn", turn, why));
    }
    let mut cover = Cover { facts, spine, flat, reading, elements: Vec::new() };
    cover.elements = panels(desk, tree, &cover);
    cover
}

fn usual_facts(desk: &Desk<'_>) -> Facts {
    let profile = desk.darkroom.press("coated").expect("the coated profile is bundled");
    let ink_limit = profile.ink_limit().unwrap_or(3.0);
    let language = Spanned::new("en-GB".to_owned(), Span::default());
    let pages = Spanned::new(300, Span::default());
    Facts {
        book: Book { language, pages, ..Book::default() },
        format: Format::default(),
        press: Press { profile, ink_limit, span: Span::default() },
        palette: Palette::default(),
        styles: BTreeMap::new(),
        guides: Guides::default(),
        deliver: crate::cover::Deliver::default(),
    }
}

/// How the spine reads, and why.
fn spine_reading(tree: &Tree, facts: &Facts) -> (Reading, String) {
    let spines = tree.nodes.iter().filter(|node| node.name.value == "panel");
    for node in spines {
        // The panel itself is read later and reports there; this look is for one word of it.
        let scratch = std::cell::RefCell::default();
        let reader = Reader::new(node, &scratch);
        reader.all_children();
        let name = reader.text("a panel");
        if name.is_some_and(|name| name.value == "spine")
            && let Some(reading) = reads(&reader)
        {
            return (reading, "as the panel says".to_owned());
        }
    }
    let (reading, why) = Reading::of_language(&facts.book.language.value);
    (reading, why.to_owned())
}

/// Every panel and wrap, in the order of the file.
fn panels(desk: &Desk<'_>, tree: &Tree, cover: &Cover) -> Vec<Element> {
    let parts = part::parts(tree, desk.findings);
    let count = Cell::new(0);
    let mut all = Vec::new();
    for node in &tree.nodes {
        let name = node.name.value.as_str();
        match name {
            "panel" | "wrap" => {}
            "part" => continue,
            _ if NODES.iter().any(|known| known.name == name && matches!(known.role, Role::Fact(_))) => continue,
            _ => {
                let mut known: Vec<&str> =
                    NODES.iter().filter(|node| !matches!(node.role, Role::Element(_))).map(|node| node.name).collect();
                known.push("wrap");
                let help = if elements().any(|element| element.name == name) {
                    format!("`{name}` stands in a panel: write it inside `panel front {{ … }}`, or in `wrap {{ … }}`")
                } else {
                    offer(name, &known)
                };
                let message = format!("`{name}` is unknown at the top of a cover file");
                desk.findings.borrow_mut().error(node.name.span, message, help);
                continue;
            }
        }
        let reader = Reader::new(node, desk.findings);
        let region = if name == "wrap" {
            cover.region("wrap")
        } else {
            let Some(panel) = reader.text("a panel's name") else { continue };
            let region = cover.region(&panel.value);
            if region.is_none() {
                reader.all_children();
                let known: Vec<&str> = cover.sheet().panels.iter().map(|panel| panel.name).collect();
                let binding = cover.facts.format.binding.word();
                let message = format!("a {binding} has no panel `{}`", panel.value);
                reader.error(panel.span, message, offer(&panel.value, &known));
            }
            region
        };
        let Some(region) = region else { continue };
        if region.spine {
            reads(&reader);
        }
        let nodes: Vec<Node> = reader.nodes(element_words()).into_iter().cloned().collect();
        let context = Context {
            desk: *desk,
            facts: &cover.facts,
            region: &region,
            parts: &parts,
            depth: 0,
            count: &count,
            reading: cover.reading.0,
            read: read_elements,
        };
        all.extend(read_elements(&nodes, &context));
    }
    report_twins(desk, &all);
    reorder(desk, all)
}

/// Everything that may stand in a panel, `use` included.
pub fn element_words() -> impl Iterator<Item = &'static str> {
    elements().map(|node| node.name).chain(["use"])
}

fn read_elements(nodes: &[Node], context: &Context<'_>) -> Vec<Element> {
    nodes.iter().filter_map(|node| read_element(node, context)).collect()
}

fn read_element(node: &Node, context: &Context<'_>) -> Option<Element> {
    let facts = context.facts;
    if let Some((_, value)) = node.properties.iter().find(|(key, _)| key.value == "when")
        && !stated(value, context)
    {
        return None;
    }
    context.count.set(context.count.get() + 1);
    if context.count.get() > ELEMENT_LIMIT {
        if context.count.get() == ELEMENT_LIMIT + 1 {
            let message = format!("the cover has more than {ELEMENT_LIMIT} elements; the rest is left out");
            let help = "a part that uses itself, or parts that use parts many times, come to this";
            context.desk.findings.borrow_mut().error(node.name.span, message, help);
        }
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
    let name = reader.text("a name")?;
    let place = Place::read(&reader, context.region, facts);
    let mut look = Look::read(&reader);
    if context.region.spine && !context.region.inner && known.name == "text" && look.turn == 0.0 {
        look.turn = context.reading.turn(facts.book.right_to_left());
    }
    let body = read(&reader, context)?;
    Some(Element { name, panel: context.region.name.clone(), place, look, body })
}

/// Whether the fact that a `when=` asks for is stated; a name nobody could state is a slip.
fn stated(value: &Value, context: &Context<'_>) -> bool {
    if let crate::source::Datum::Text(name) = &value.datum {
        context.facts.book.word(name).is_some()
    } else {
        let message = format!("`when=` names a fact, not {}", value.shown());
        context.desk.findings.borrow_mut().error(value.span, message, "write when=subtitle, or when=quote");
        true
    }
}

fn report_twins(desk: &Desk<'_>, all: &[Element]) {
    let mut seen: BTreeMap<(&str, &str), Span> = BTreeMap::new();
    for element in all {
        let key = (element.panel.as_str(), element.name.value.as_str());
        if seen.insert(key, element.name.span).is_some() {
            let message = format!("`{}` has two elements called `{}`", element.panel, element.name.value);
            desk.findings.borrow_mut().error(element.name.span, message, "give one of them another name");
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
        let Some(from) = all.iter().position(|element| element.panel == panel && element.name == name) else {
            continue;
        };
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
