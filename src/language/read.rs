//! Tree to Cover: facts first, then the elements, which find the facts ready.

use crate::assets::nearest;
use crate::cover::{
    Book, Cover, Element, Facts, Format, Guides, Materials, Measure, Palette, Press, Reading, Region, Rights, flat,
    screen_front,
};
use crate::ground::{Span, Spanned};
use crate::language::context::{Context, Desk};
use crate::language::elements::{read_element, read_elements};
use crate::language::headword::{Headword, Role};
use crate::language::nodes::book::BOOK;
use crate::language::nodes::format::{FORMAT, expected_binding};
use crate::language::nodes::panel::{PANEL, WRAP, baselines, reads};
use crate::language::nodes::{HEADWORDS, element_words, elements, part, top_words};
use crate::language::order::in_order;
use crate::language::verdicts::verdicts;
use crate::scene::{PanelName, Surface};
use crate::source::{KnownBy, Node, Reader, Tree, Word, offer, offer_word};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Reads a whole cover. What is wrong is reported and gets its usual value.
pub fn read(desk: &Desk<'_>, tree: &Tree) -> Cover {
    let (tree, verdicts) = verdicts(desk, tree);
    let mut cover = bare(desk, &tree, |_| true);
    cover.elements = panels(desk, &tree, &cover);
    (cover.waivers, cover.approvals) = (verdicts.waivers, verdicts.approvals);
    cover
}

/// What the sheet of a cover measures. Nothing is read that has no say in it: no picture, no font, no profile.
pub fn measures(desk: &Desk<'_>, tree: &Tree) -> Vec<Measure> {
    bare(desk, tree, |fact| [BOOK.name, FORMAT.name].contains(&fact)).flat.measures
}

/// A cover by the facts that are wanted, and without any element.
fn bare(desk: &Desk<'_>, tree: &Tree, wanted: fn(&str) -> bool) -> Cover {
    let mut facts = usual_facts(desk);
    facts.format.binding = expected_binding(tree);
    for headword in HEADWORDS.iter().filter(|headword| wanted(headword.word.name)) {
        let (Role::Fact(read), word) = (headword.role, &headword.word) else { continue };
        let mut stated = tree.nodes.iter().filter(|stated| stated.name.value == word.name);
        // A section with a slip in its name is reported once, and read anyway, so that what it defines is known.
        let first =
            stated.next().or_else(|| tree.nodes.iter().take(SECTIONS).find(|stated| means(&stated.name.value, word)));
        if let Some(first) = first {
            read(&Reader::new(first, word, desk.findings), &mut facts, desk);
            // Those with a name are things of a kind: views.
            if word.known_by == KnownBy::Name {
                stated.by_ref().for_each(|next| read(&Reader::new(next, word, desk.findings), &mut facts, desk));
            }
        } else if [BOOK.name, FORMAT.name].contains(&word.name) {
            let at = tree.nodes.first().map_or(Span::default(), |node| node.name.span);
            let message = format!("the cover lacks its `{}`", word.name);
            let least = if word.name == BOOK.name {
                "book { title \"…\"; pages 312 }"
            } else {
                "format paperback { trim 129 198 }"
            };
            let help = format!("write `{least}` at least; see `jaconet explain {}`", word.name);
            desk.findings.borrow_mut().error(at, message, help);
        }
        for again in stated {
            let message = format!("`{}` stands here a second time", word.name);
            desk.findings.borrow_mut().error(again.name.span, message, "write it all in one place");
        }
    }
    let spine = facts.format.spine(facts.book.pages.value, facts.book.extent);
    let mut flat = match facts.format.binding.pixels() {
        Some(pixels) => screen_front(&facts.format, pixels, &spine, facts.book.bound_right()),
        None => flat(&facts.format, &spine, facts.book.bound_right()),
    };
    let reading = spine_reading(tree, &facts);
    if flat.sheet.delivered().panel(PanelName::Spine).is_some() {
        let turn = reading.0.turn(facts.book.right_to_left());
        let why = format!("reads {}: {}", reading.0.word(), reading.1);
        flat.measures.push(Measure::turn("spine turn", turn, why));
    }
    Cover { facts, spine, flat, reading, elements: Vec::new(), waivers: Vec::new(), approvals: Vec::new() }
}

/// A cover has some ten sections; names that come after so many are not compared with ours.
const SECTIONS: usize = 100;

/// Whether an unknown name at the top of the file was meant for this word.
fn means(stated: &str, word: &Word) -> bool {
    let tops = || top_words().map(|top| top.name);
    word.was.contains(&stated)
        || tops().all(|known| known != stated) && nearest(stated, tops()).is_some_and(|near| near == word.name)
}

fn usual_facts(desk: &Desk<'_>) -> Facts {
    let profile = desk.darkroom.press("coated").expect("the coated profile is bundled");
    let ink_limit = profile.ink_limit().unwrap_or(3.0);
    let language = Spanned::new("en-GB".to_owned(), Span::default());
    let pages = Spanned::new(300, Span::default());
    Facts {
        book: Book { language, pages, ..Book::default() },
        format: Format::default(),
        press: Press { profile, ink_limit, limit_inks: None, text_plate: None, span: Span::default() },
        palette: Palette::default(),
        rights: Rights::default(),
        styles: BTreeMap::new(),
        guides: Guides::default(),
        materials: Materials::default(),
        views: Vec::new(),
        delivery: BTreeMap::new(),
        patterns: BTreeMap::new(),
        must_say: Vec::new(),
        word_lists: Vec::new(),
        keyline: None,
        limits: Arc::default(),
        printer: Arc::default(),
    }
}

/// How the spine reads, and why.
fn spine_reading(tree: &Tree, facts: &Facts) -> (Reading, String) {
    if let Some(reading) = of_panel(tree, Surface::SPINE, reads) {
        return (reading, "as the panel says".to_owned());
    }
    let (reading, why) = Reading::of_language(&facts.book.language.value);
    (reading, why.to_owned())
}

/// What a panel, in whichever of its blocks, says of itself.
fn of_panel<T>(tree: &Tree, panel: Surface, read: fn(&Reader<'_>) -> Option<T>) -> Option<T> {
    // Each block is read later and reports there.
    let scratch = RefCell::default();
    tree.nodes.iter().find_map(|node| {
        let word = [&PANEL, &WRAP].into_iter().find(|word| word.name == node.name.value)?;
        if panel_named(node, word) != Some(panel) {
            return None;
        }
        let reader = Reader::new(node, word, &scratch);
        reader.all_children();
        read(&reader)
    })
}

/// The panel that a node is about; what is wrong with its name is reported where it is read.
fn panel_named(node: &Node, word: &'static Word) -> Option<Surface> {
    if word.name == WRAP.name {
        return Some(Surface::Wrap);
    }
    let scratch = RefCell::default();
    let reader = Reader::new(node, word, &scratch);
    reader.all_children();
    Surface::named(&reader.text()?.value)
}

/// Every panel and wrap, in the order of the file. On a screen only what lies on the front is delivered: what stands on
/// other panels is read for the order and for unknown words; the printed cover reports what else is wrong there.
fn panels(desk: &Desk<'_>, tree: &Tree, cover: &Cover) -> Vec<Element> {
    let parts = part::parts(tree, desk.findings);
    let wrap = Region::wrap(cover.sheet(), cover.facts.format.safe);
    let words: Vec<&Word> = element_words().collect();
    let context = Context {
        desk: *desk,
        facts: &cover.facts,
        region: &wrap,
        parts: &parts,
        depth: 0,
        count: &Cell::new(0),
        letters: &Cell::new(0),
        thinned: &Cell::new(0),
        pictured: &Cell::new(0),
        rounds: &Cell::new(0),
        reading: cover.reading.0,
        elements: &words,
        read: read_elements,
    };
    let delivered = cover.sheet().delivered();
    let on_it = |surface| match surface {
        Surface::Wrap => true,
        Surface::Panel(name) => delivered.panel(name).is_some(),
    };
    let scratch = RefCell::default();
    let mut all = Vec::new();
    for node in &tree.nodes {
        let Some(word) = holder(desk, node) else { continue };
        let elsewhere = panel_named(node, word).is_some_and(|surface| !on_it(surface));
        let desk = Desk { findings: if elsewhere { &scratch } else { desk.findings }, ..*desk };
        let context = Context { desk, ..context };
        let reader = Reader::new(node, word, desk.findings);
        let Some(mut region) = region(&reader, cover) else { continue };
        baselines(&reader);
        region.baselines = of_panel(tree, region.name, baselines);
        if region.spine {
            reads(&reader);
        }
        let nodes: Vec<Node> = reader.nodes(element_words()).into_iter().cloned().collect();
        all.extend(read_elements(&nodes, &Context { region: &region, ..context }));
    }
    // Nobody sees a part that is not used; its mistakes are reported anyway.
    for node in part::unused(tree, &parts) {
        read_element(&node, &context);
    }
    desk.findings.borrow_mut().extend(scratch.into_inner().iter().filter(|finding| finding.unknown).cloned());
    let mut all = in_order(desk, all);
    all.retain(|element| on_it(element.panel));
    all
}

/// The word of a panel or of the wrap; a node at the top of the file that is nothing at all is reported.
fn holder(desk: &Desk<'_>, node: &Node) -> Option<&'static Word> {
    let name = node.name.value.as_str();
    if let Some(word) = [&PANEL, &WRAP].into_iter().find(|word| word.name == name) {
        return Some(word);
    }
    let is_fact = |headword: &&Headword| matches!(headword.role, Role::Fact(_)) && headword.word.name == name;
    if name == part::PART.name || HEADWORDS.iter().any(is_fact) {
        return None;
    }
    desk.findings
        .borrow_mut()
        .unknown(node.name.span, || (format!("`{name}` is unknown at the top of a cover file"), instead(name)));
    None
}

/// What to write instead of a word that is unknown at the top of a file.
fn instead(name: &str) -> String {
    let known: Vec<&str> = top_words().map(|word| word.name).collect();
    if let Some(word) = top_words().find(|word| word.was.contains(&name)) {
        format!("it is called `{}` now", word.name)
    } else if elements().any(|element| element.word.name == name) {
        format!("`{name}` stands in a panel: write it inside `panel front {{ … }}`, or in `wrap {{ … }}`")
    } else if nearest(name, std::iter::once("catalogue")).is_some() {
        "did you mean `catalogue`? See `jaconet explain catalogue`".to_owned()
    } else {
        offer_word(name, &known)
    }
}

/// The region that a panel names.
fn region(reader: &Reader<'_>, cover: &Cover) -> Option<Region> {
    if reader.word.name == WRAP.name {
        return cover.region(Surface::Wrap);
    }
    let panel = reader.text()?;
    let region = Surface::named(&panel.value).and_then(|surface| cover.region(surface));
    if region.is_none() {
        reader.all_children();
        let known: Vec<&str> = cover.sheet().panels.iter().map(|panel| panel.name.word()).collect();
        let binding = cover.facts.format.binding.word();
        let message = format!("a {binding} has no panel `{}`", panel.value);
        reader.error(panel.span, message, offer(&panel.value, &known));
    }
    region
}
