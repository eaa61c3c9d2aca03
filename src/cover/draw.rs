//! Cover to Scene: every element finds its frame and leaves its marks.

use crate::cover::{Bench, Cover, Element, Layout, draw_one};
use crate::ground::{Affine, Findings, number};
use crate::scene::{Job, Scene};
use crate::typeset::Typesetter;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Draws a whole cover. What does not fit is reported and drawn all the same.
pub fn draw(findings: &RefCell<Findings>, cover: &Cover, typesetter: &Typesetter) -> Scene {
    let bench = Bench { facts: &cover.facts, sheet: cover.sheet(), typesetter, findings };
    // Neighbours are those of the same panel, wherever in the file they stand.
    let mut panels: BTreeMap<&str, Vec<Element>> = BTreeMap::new();
    let mut places = Vec::with_capacity(cover.elements.len());
    for element in &cover.elements {
        let panel = panels.entry(&element.panel).or_default();
        places.push((element.panel.as_str(), panel.len()));
        panel.push(element.clone());
    }
    let regions: BTreeMap<&str, _> = panels.keys().filter_map(|name| Some((*name, cover.region(name)?))).collect();
    let layouts: BTreeMap<&str, Layout<'_>> = panels
        .iter()
        .filter_map(|(name, elements)| Some((*name, Layout::new(bench, regions.get(name)?, elements))))
        .collect();
    let mut items = Vec::new();
    let present = cover.elements.iter().zip(places).filter(|(element, _)| !element.body.absent());
    for (element, (panel, index)) in present {
        let (Some(layout), Some(region)) = (layouts.get(panel), regions.get(panel)) else { continue };
        let place = (layout.frame(index), layout.room(index));
        items.extend(draw_one(bench, region, element, place, Affine::IDENTITY));
    }
    Scene { sheet: cover.sheet().clone(), job: job(cover), profile: cover.facts.press.profile.clone(), items }
}

fn job(cover: &Cover) -> Job {
    let book = &cover.facts.book;
    let word = |name| book.word(name).unwrap_or_default().to_owned();
    let (width, height) = cover.facts.format.trim;
    let notes = vec![
        format!("{} {} × {} mm", cover.facts.format.binding.word(), number(width), number(height)),
        format!("spine {} mm, {} pages", number(cover.spine.width), cover.spine.pages),
    ];
    Job {
        title: word("title"),
        author: word("author"),
        language: book.language.value.clone(),
        isbn: book.word("isbn").map(str::to_owned),
        version: book.version,
        date: book.date.clone(),
        notes,
    }
}
