//! Book facts: what a book states of itself, in the order in which people ask for it.

use crate::cover::{Cover, Extent};
use crate::ground::{Rect, number};
use crate::scene::Surface;

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

/// The safe area of every panel.
pub fn safe_areas(cover: &Cover) -> Vec<Rect> {
    let panels = cover.sheet().panels.iter().filter(|panel| !panel.name.is_joint());
    let areas = panels.filter_map(|panel| Some(cover.region(Surface::Panel(panel.name))?.safe));
    areas.filter(|area| area.width() > 0.0 && area.height() > 0.0).collect()
}
