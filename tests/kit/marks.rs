//! Marks: what tests ask of a scene: the frame of every element, and the words it prints.

use jaconet::testing::{Item, Mark, Scene};
use std::collections::BTreeMap;

/// Words of one line in one font.
pub struct Words {
    /// `panel/name`.
    pub element: String,
    pub text: String,
    /// Where the baseline begins, in sheet millimetres.
    pub at: [f64; 2],
    /// How far the last visible glyph reaches from there, in the run's own space.
    pub reach: f64,
}

pub fn frames(scene: &Scene) -> BTreeMap<String, jaconet::testing::Rect> {
    let mut all = BTreeMap::new();
    walk(&scene.items, &mut |item| {
        all.insert(named(item), item.origin.frame);
    });
    all
}

pub fn words(scene: &Scene) -> Vec<Words> {
    let mut all = Vec::new();
    walk(&scene.items, &mut |item| {
        let Mark::Glyphs(run) = &item.mark else { return };
        let visible = |glyph: &&jaconet::testing::Glyph| !run.text[glyph.text.clone()].trim().is_empty();
        let reach = run.glyphs.iter().filter(visible).map(|glyph| glyph.x + glyph.advance).fold(0.0, f64::max);
        let at = run.transform.translation();
        all.push(Words { element: named(item), text: run.text.to_string(), at: [at.x, at.y], reach });
    });
    all
}

fn named(item: &Item) -> String {
    format!("{}/{}", item.origin.panel, item.origin.element)
}

fn walk(items: &[Item], visit: &mut impl FnMut(&Item)) {
    for item in items {
        visit(item);
        if let Mark::Group(group) = &item.mark {
            walk(&group.items, visit);
        }
    }
}
