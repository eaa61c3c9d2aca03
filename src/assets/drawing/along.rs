//! Along: text along a path of which nothing is set. The reader leaves out what does not fit, and what follows no path.

use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::style::Styles;
use std::collections::{BTreeMap, BTreeSet};
use usvg::roxmltree::{Document, Node};

/// What is drawn only where something asks for it.
const KEPT: [&str; 6] = ["clipPath", "defs", "marker", "mask", "pattern", "symbol"];

/// Names what is lost. `laid` has each piece that is set: the name of its path, and its letters.
pub fn lost(document: &Document<'_>, styles: &Styles<'_>, laid: &BTreeSet<(String, String)>) -> BTreeSet<String> {
    let along = || document.descendants().filter(|node| node.has_tag_name((SVG, "textPath")));
    let mut lost = BTreeSet::new();
    if along().next().is_none() {
        return lost;
    }
    let shown = shown(document, styles);
    let ids: BTreeSet<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
    // Within a `tspan`, and with a path of its own, it is named as something that is not read.
    let is_read = |node: &Node<'_, '_>| node.parent().is_some_and(|parent| parent.has_tag_name((SVG, "text")));
    for node in along().filter(is_read).filter(|node| node.attribute("path").is_none()) {
        let texts = node.descendants().filter(Node::is_text);
        let texts = texts.filter(|text| text.parent().is_some_and(|parent| shown.contains(&parent.id().get_usize())));
        let letters = printed(&texts.filter_map(|text| text.text()).collect::<String>());
        let is_taken = node.descendants().any(|inside| inside.has_tag_name((SVG, "tref")));
        if letters.is_empty() || is_taken {
            continue;
        }
        let href = node.attributes().find(|attribute| attribute.name() == "href");
        let name = href.and_then(|href| href.value().trim().strip_prefix('#')).unwrap_or_default();
        if !ids.contains(name) {
            lost.insert(format!("text along a path that is not in the file (`#{name}`)"));
        } else if !laid.iter().any(|(path, set)| path == name && letters.contains(set)) {
            lost.insert("text along a path that it does not fit on".to_owned());
        }
    }
    lost
}

/// What shows of a text.
pub fn printed(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

/// Elements that are drawn where they stand.
fn shown(document: &Document<'_>, styles: &Styles<'_>) -> BTreeSet<usize> {
    let mut drawn = BTreeMap::new();
    // Parents stand before their children.
    for node in document.descendants().filter(Node::is_element) {
        let above = node.parent_element().map(|parent| parent.id().get_usize());
        let (drawn_above, seen_above) = above.and_then(|above| drawn.get(&above)).copied().unwrap_or((true, true));
        let is_drawn =
            drawn_above && !KEPT.contains(&node.tag_name().name()) && styles.stated(node, "display") != Some("none");
        let is_seen = match styles.stated(node, "visibility") {
            Some("hidden" | "collapse") => false,
            Some("visible") => true,
            _ => seen_above,
        };
        drawn.insert(node.id().get_usize(), (is_drawn, is_seen));
    }
    drawn.into_iter().filter(|(_, (is_drawn, is_seen))| *is_drawn && *is_seen).map(|(id, _)| id).collect()
}
