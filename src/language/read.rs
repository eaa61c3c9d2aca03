//! Tree to Cover: facts first, then the elements, which find the facts ready.

use crate::assets::nearest;
use crate::cover::{
    Baselines, Book, Cover, Element, Facts, Format, Guides, Measure, Palette, Press, Reading, Region, flat,
};
use crate::ground::{Span, Spanned};
use crate::language::nodes::panel::{baselines, reads};
use crate::language::nodes::{NODES, elements, part};
use crate::language::waivers::waivers;
use crate::language::{Context, Desk, Role, element_words, in_order, read_element, read_elements};
use crate::source::{Node, Reader, Tree, offer, offer_word};
use std::cell::Cell;
use std::collections::BTreeMap;

/// Reads a whole cover. What is wrong is reported and gets its usual value.
pub fn read(desk: &Desk<'_>, tree: &Tree) -> Cover {
    let (tree, waivers) = waivers(desk, tree);
    let mut cover = bare(desk, &tree, |_| true);
    cover.elements = panels(desk, &tree, &cover);
    cover.waivers = waivers;
    cover
}

/// What the sheet of a cover measures. Nothing is read that has no say in it: no picture, no font, no profile.
pub fn measures(desk: &Desk<'_>, tree: &Tree) -> Vec<Measure> {
    bare(desk, tree, |fact| matches!(fact, "book" | "format")).flat.measures
}

/// A cover by the facts that are wanted, and without any element.
fn bare(desk: &Desk<'_>, tree: &Tree, wanted: fn(&str) -> bool) -> Cover {
    let mut facts = usual_facts(desk);
    for node in NODES.iter().filter(|node| wanted(node.name)) {
        let Role::Fact(read) = node.role else { continue };
        let mut said = tree.nodes.iter().filter(|said| said.name.value == node.name);
        // A section with a slip in its name is told once, and read all the same, so that what it defines is known.
        let first = said.next().or_else(|| tree.nodes.iter().find(|said| means(&said.name.value, node.name)));
        if let Some(first) = first {
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
    Cover { facts, spine, flat, reading, elements: Vec::new(), waivers: Vec::new() }
}

/// Whether an unknown name at the top of the file was to be this one.
fn means(said: &str, name: &str) -> bool {
    let tops = || NODES.iter().filter(|node| !matches!(node.role, Role::Element(_))).map(|node| node.name);
    tops().all(|known| known != said) && nearest(said, tops()).is_some_and(|near| near == name)
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
        delivery: desk.outputs.iter().map(|(name, choices)| (*name, choices.usual())).collect(),
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

/// The baselines of a panel, in whichever of its blocks they are said.
fn lines_of(tree: &Tree, panel: &str) -> Option<Baselines> {
    // Each block is read later and reports there.
    let scratch = std::cell::RefCell::default();
    tree.nodes.iter().filter(|node| matches!(node.name.value.as_str(), "panel" | "wrap")).find_map(|node| {
        let reader = Reader::new(node, &scratch);
        reader.all_children();
        let name = if node.name.value == "wrap" { "wrap".to_owned() } else { reader.text("a panel")?.value };
        if name == panel { baselines(&reader) } else { None }
    })
}

/// Every panel and wrap, in the order of the file.
fn panels(desk: &Desk<'_>, tree: &Tree, cover: &Cover) -> Vec<Element> {
    let parts = part::parts(tree, desk.findings);
    let wrap = Region::wrap(cover.sheet(), cover.facts.format.safe);
    let context = Context {
        desk: *desk,
        facts: &cover.facts,
        region: &wrap,
        parts: &parts,
        depth: 0,
        count: &Cell::new(0),
        reading: cover.reading.0,
        read: read_elements,
    };
    let mut all = Vec::new();
    for node in tree.nodes.iter().filter(|node| holds_elements(desk, node)) {
        let reader = Reader::new(node, desk.findings);
        let Some(mut region) = region(&reader, cover) else { continue };
        baselines(&reader);
        region.baselines = lines_of(tree, &region.name);
        if region.spine {
            reads(&reader);
        }
        let nodes: Vec<Node> = reader.nodes(element_words()).into_iter().cloned().collect();
        all.extend(read_elements(&nodes, &Context { region: &region, ..context }));
    }
    // Nobody sees a part that is not used; its mistakes are told all the same.
    for node in part::unused(tree, &parts) {
        read_element(&node, &context);
    }
    in_order(desk, all)
}

/// Whether a node at the top of the file is a panel or the wrap; one that is nothing at all is told.
fn holds_elements(desk: &Desk<'_>, node: &Node) -> bool {
    let name = node.name.value.as_str();
    if matches!(name, "panel" | "wrap") {
        return true;
    }
    if name == "part" || NODES.iter().any(|known| known.name == name && matches!(known.role, Role::Fact(_))) {
        return false;
    }
    desk.findings
        .borrow_mut()
        .error_of(node.name.span, || (format!("`{name}` is unknown at the top of a cover file"), instead(name)));
    false
}

/// What to write instead of a word that is unknown at the top of a file.
fn instead(name: &str) -> String {
    let holders = NODES.iter().filter(|node| !matches!(node.role, Role::Element(_))).map(|node| node.name);
    let known: Vec<&str> = holders.chain(["wrap"]).collect();
    if elements().any(|element| element.name == name) {
        format!("`{name}` stands in a panel: write it inside `panel front {{ … }}`, or in `wrap {{ … }}`")
    } else if nearest(name, std::iter::once("catalogue")).is_some() {
        "did you mean `catalogue`? See `jaconet explain catalogue`".to_owned()
    } else {
        offer_word(name, &known)
    }
}

/// The region that a panel names.
fn region(reader: &Reader<'_>, cover: &Cover) -> Option<Region> {
    if reader.node.name.value == "wrap" {
        return cover.region("wrap");
    }
    let panel = reader.text("a panel's name")?;
    let region = cover.region(&panel.value);
    if region.is_none() {
        reader.all_children();
        let known: Vec<&str> = cover.sheet().panels.iter().map(|panel| panel.name).collect();
        let binding = cover.facts.format.binding.word();
        let message = format!("a {binding} has no panel `{}`", panel.value);
        reader.error(panel.span, message, offer(&panel.value, &known));
    }
    region
}
