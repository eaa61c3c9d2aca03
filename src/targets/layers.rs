//! Layers: a cover file, the chain of series under it, and what lies over it, as one tree.

use crate::assets::{Shelf, ShelfFault};
use crate::ground::{FileId, Findings, Span, Spanned};
use crate::language::{LAYER_WORDS, judge_drops, overlay, settled, title};
use crate::record::CoverRequest;
use crate::source::{Datum, Files, Node, Tree, Value, offer, parse_file};
use crate::targets::editions::{edition, edition_name, editions};
use crate::targets::printer::printer;
use crate::targets::sources::Sources;
use crate::targets::trial::completed;
use std::cell::RefCell;

/// So many files may lie under each other.
const CHAIN: usize = 64;

/// A cover and everything under and over it.
pub struct LaidCover {
    /// One tree, without series, editions and drops.
    pub tree: Tree,
    /// What the printer's file says, which is laid into it.
    pub printer: Option<Tree>,
    /// The names of its editions, in order.
    pub editions: Vec<String>,
    /// It has a format without an edition.
    pub whole: bool,
}

/// Reads and lays all files of a cover. `Ok(None)` when one of them is not KDL, which has been reported; `Err` when the cover
/// file itself does not come.
pub fn layers(reading: Sources<'_>, request: &CoverRequest) -> Result<Option<LaidCover>, ShelfFault> {
    let bytes = reading.shelf.read(&request.path)?;
    let (cover, sound) = reading.files.add_bytes(reading.findings, &request.path, &bytes);
    if let Some(entry) = &request.title {
        reading.files.add(&entry.sheet.path, entry.sheet.text.clone());
    }
    if !sound {
        return Ok(None);
    }
    let tree = parse_file(&mut reading.findings.borrow_mut(), cover, &reading.files.text(cover).unwrap_or_default());
    if tree.nodes.is_empty() && reading.findings.borrow().is_empty() {
        let help = "`jaconet new` writes a cover to start from";
        reading.findings.borrow_mut().error(Span::new(cover, 0..0), "the file says nothing", help);
    }
    Ok(chain(reading, request.path.clone(), tree).and_then(|chain| laid(reading, chain, cover, request)))
}

/// What is laid over the files of a cover, and all of it as one tree.
fn laid(reading: Sources<'_>, mut chain: Vec<Tree>, cover: FileId, request: &CoverRequest) -> Option<LaidCover> {
    // Where the cover's own file stands in the chain.
    let mut own = chain.len() - 1;
    if let Some(entry) = &request.title
        && let Some(row) = entry.row()
    {
        reading.findings.borrow_mut().extend(entry.faults.iter().cloned());
        let title = title(&mut reading.findings.borrow_mut(), row);
        if entry.is_undrawn {
            return None;
        }
        // The template's own words lie over what the row does not say.
        chain.insert(0, title.known);
        own += 1;
        chain.push(called(&title.stem));
        chain.push(title.tree);
        if let Some(overrides) = &title.overrides {
            let (file, text) = reading.files.read(reading.findings, reading.shelf, overrides)?;
            let tree = parse_file(&mut reading.findings.borrow_mut(), file, &text);
            judge_overrides(&mut reading.findings.borrow_mut(), &chain, &tree);
            chain.push(tree);
        }
    }
    let mut tree = chain.iter().fold(Tree::default(), |under, over| overlay(&under, over));
    let editions = editions(&tree, reading.findings);
    let whole = tree.nodes.iter().any(|node| node.name.value == "format");
    if let Some(wanted) = &request.edition {
        let asked = Spanned::new(wanted.clone(), Span::new(cover, 0..0));
        let parts = edition(&chain, &tree, &asked, reading.findings);
        if parts.is_empty() {
            let known: Vec<&str> = editions.iter().map(String::as_str).collect();
            let message = format!("there is no edition `{wanted}`");
            reading.findings.borrow_mut().error(Span::new(cover, 0..0), message, offer(wanted, &known));
        }
        tree = parts.iter().fold(tree, |under, over| overlay(&under, over));
        chain.extend(parts);
    }
    let printer = printer(reading, &chain);
    if let Some(printer) = &printer {
        chain.insert(own, printer.clone());
        tree = chain.iter().fold(Tree::default(), |under, over| overlay(&under, over));
    }
    judge_drops(&mut reading.findings.borrow_mut(), &chain);
    if let Some(tried) = &request.trial {
        let file = reading.files.add(TRIAL, tried.as_str());
        let tried = parse_file(&mut reading.findings.borrow_mut(), file, tried);
        tree = overlay(&tree, &completed(&tree, tried));
    }
    let apart = |node: &Node| LAYER_WORDS.contains(&node.name.value.as_str());
    let nodes = settled(&tree).nodes.into_iter().filter(|node| !apart(node)).collect();
    Some(LaidCover { tree: Tree { nodes }, printer, editions, whole })
}

/// What is built of a catalogue is known by its template: a title can have no series and no edition beside it.
fn judge_overrides(findings: &mut Findings, chain: &[Tree], overrides: &Tree) {
    let known: Vec<&str> = chain.iter().flat_map(|tree| &tree.nodes).filter_map(edition_name).collect();
    for node in &overrides.nodes {
        match edition_name(node) {
            Some(name) if !known.contains(&name) => {
                let message = format!("the template has no edition `{name}`");
                findings.error(node.name.span, message, "say it in the template, and here what is other in it");
            }
            None if node.name.value == "series" => {
                let message = "a file of overrides lies over the template, and has no series of its own";
                findings.error(node.name.span, message, "take it away, or say it in the template");
            }
            _ => {}
        }
    }
}

/// A title's stem as a fact, by which the template finds pictures and copy: `file="art/{stem}.tif"`.
fn called(stem: &Spanned<String>) -> Tree {
    let text = |text: &str| Value { datum: Datum::Text(text.to_owned()), unit: None, span: stem.span };
    let node = |name: &str, values: Vec<Value>, children: Vec<Node>| Node {
        name: Spanned::new(name.to_owned(), stem.span),
        values,
        properties: Vec::new(),
        children,
        span: stem.span,
    };
    let fact = node("fact", vec![text("stem"), text(&stem.value)], Vec::new());
    Tree { nodes: vec![node("book", Vec::new(), vec![fact])] }
}

/// How findings call the facts that are tried out.
pub const TRIAL: &str = "--try";

/// What is to be built of a cover file: the cover as it stands, unless its format stands only in its editions, and every
/// edition. Nothing is known of a file that cannot be read; building it tells why.
pub fn variants(shelf: &dyn Shelf, request: &CoverRequest) -> Vec<Option<String>> {
    let (files, findings) = (Files::default(), RefCell::default());
    let laid = layers(Sources { shelf, files: &files, findings: &findings }, request);
    let Ok(Some(LaidCover { editions, whole, .. })) = laid else { return Vec::new() };
    let own = (whole || editions.is_empty()).then_some(None);
    own.into_iter().chain(editions.into_iter().map(Some)).collect()
}

/// The trees of a file and of all that lies under it, the lowest first. `None` when one cannot be read.
fn chain(reading: Sources<'_>, path: String, tree: Tree) -> Option<Vec<Tree>> {
    if reading.findings.borrow().has_errors() {
        return None;
    }
    let (mut paths, mut trees) = (vec![path], vec![tree]);
    while let Some(below) = trees.last().and_then(|tree| series(reading, tree)) {
        let path = reading.files.resolve(&below);
        if let Some(at) = paths.iter().position(|known| *known == path) {
            let round: Vec<&str> = paths[at..].iter().chain([&path]).map(String::as_str).collect();
            let message = format!("these series lie under each other in a circle: {}", round.join(" → "));
            reading.findings.borrow_mut().error(below.span, message, "take one of their `series` lines away");
            return None;
        }
        if paths.len() == CHAIN {
            let message = format!("more than {CHAIN} files lie under each other");
            reading.findings.borrow_mut().error(below.span, message, "join some of these series");
            return None;
        }
        let (file, text) = reading.files.read(reading.findings, reading.shelf, &below)?;
        let tree = parse_file(&mut reading.findings.borrow_mut(), file, &text);
        if reading.findings.borrow().has_errors() {
            return None;
        }
        paths.push(path);
        trees.push(tree);
    }
    trees.reverse();
    (!reading.findings.borrow().has_errors()).then_some(trees)
}

/// The file that a tree names as its series.
fn series(reading: Sources<'_>, tree: &Tree) -> Option<Spanned<String>> {
    let mut stated = tree.nodes.iter().filter(|node| node.name.value == "series");
    let first = stated.next()?;
    let mut findings = reading.findings.borrow_mut();
    if let Some(again) = stated.next() {
        let help = "a series may name a series of its own; keep one of the two here";
        findings.error(again.name.span, "`series` stands here a second time", help);
    }
    match &first.values[..] {
        [value] if first.properties.is_empty() && first.children.is_empty() => match &value.datum {
            Datum::Text(path) => return Some(Spanned::new(path.clone(), value.span)),
            _ => findings.error(value.span, format!("`series` takes a path, not {}", value.shown()), HOW),
        },
        _ => findings.error(first.name.span, "`series` names one file", HOW),
    }
    None
}

const HOW: &str = "write `series \"../series.kdl\"`";
