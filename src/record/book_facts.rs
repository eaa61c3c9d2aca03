//! Book facts: what a book states of itself, in the order in which people ask for it.

use crate::cover::{Cover, Extent};
use crate::ground::{Rect, number};
use crate::language::{FORMAT, PAPER};
use crate::record::area::round;
use crate::scene::Surface;
use crate::source::{Datum, Node, Tree};

/// Facts in words, and what they are called.
const WORDS: [(&str, &str); 8] = [
    ("title", "Title"),
    ("subtitle", "Subtitle"),
    ("author", "Author"),
    ("translator", "Translator"),
    ("illustrator", "Illustrator"),
    ("publisher", "Publisher"),
    ("isbn", "ISBN"),
    ("price", "Price"),
];

/// Each with its label; what is not stated is left out.
pub fn book_facts(cover: &Cover) -> Vec<(&'static str, String)> {
    let (book, format) = (&cover.facts.book, &cover.facts.format);
    let word = |(name, label): &(&str, &'static str)| Some((*label, book.word(name)?.to_owned()));
    let mut facts: Vec<(&'static str, String)> = WORDS.iter().filter_map(word).collect();
    let state = if book.extent == Extent::Estimated { ", estimated" } else { "" };
    facts.push(("Extent", format!("{} pages{state}", cover.spine.pages)));
    let (width, height) = format.trim;
    facts.push(("Trimmed page", format!("{} × {} mm", number(width), number(height))));
    facts.push(("Binding", format.binding.word().replace('-', " ")));
    let papers = format.papers.iter().map(|paper| match paper.pages {
        Some(pages) => format!("{pages} pages on {}", paper.sum),
        None => paper.sum.clone(),
    });
    let papers: Vec<String> = papers.collect();
    if !papers.is_empty() {
        facts.push(("Paper", papers.join("; ")));
    }
    facts.push(("Press", cover.facts.press.profile.name().to_owned()));
    let version = book.version.map(|version| version.to_string());
    let dated = [version, book.date.clone()].into_iter().flatten().collect::<Vec<_>>();
    if !dated.is_empty() {
        facts.push(("Version", dated.join(", ")));
    }
    facts
}

/// The named levels, from head to foot.
pub fn levels(cover: &Cover) -> Vec<(String, f64)> {
    let levels = cover.facts.guides.levels.iter();
    let mut levels: Vec<(String, f64)> =
        levels.map(|(name, level)| (name.clone(), round(level.value.y(cover.sheet())))).collect();
    levels.sort_by(|one, other| one.1.total_cmp(&other.1));
    levels
}

/// Facts that decide the sheet: pages, trim, and the paper as the file states it.
pub fn triable(cover: &Cover, tree: &Tree) -> Vec<(String, String)> {
    let (width, height) = cover.facts.format.trim;
    let mut facts = vec![("pages".to_owned(), cover.facts.book.pages.value.to_string())];
    let blocks = tree.nodes.iter().filter(|node| node.name.value == FORMAT.name);
    let papers = blocks.flat_map(|block| &block.children).filter(|node| node.name.value == PAPER.name);
    let section = |node: &&Node| node.properties.iter().any(|(key, _)| key.value == "pages");
    let stated = papers.filter(|node| !section(node)).flat_map(|node| &node.properties);
    for (key, value) in stated.filter(|(_, value)| value.unit.is_none()) {
        if let Datum::Number(number) = value.datum {
            facts.push((format!("{}.{}", PAPER.name, key.value), number.to_string()));
        }
    }
    facts.push(("trim".to_owned(), format!("{width} {height}")));
    facts
}

/// The safe area of every panel.
pub fn safe_areas(cover: &Cover) -> Vec<Rect> {
    let panels = cover.sheet().panels.iter().filter(|panel| !panel.name.is_joint());
    let areas = panels.filter_map(|panel| Some(cover.region(Surface::Panel(panel.name))?.safe));
    areas.filter(|area| area.width() > 0.0 && area.height() > 0.0).collect()
}
