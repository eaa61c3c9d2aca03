//! Along: text along a path of which nothing is set. The reader leaves out what does not fit, and what follows no path.

use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::shown::ShownElements;
use crate::assets::drawing::style::Styles;
use std::collections::BTreeSet;
use usvg::roxmltree::{Document, Node};

/// Names what is lost. `laid` has each piece that is set: the name of its path, and its letters.
pub fn lost(document: &Document<'_>, styles: &Styles<'_>, laid: &BTreeSet<(String, String)>) -> BTreeSet<String> {
    let along = || document.descendants().filter(|node| node.has_tag_name((SVG, "textPath")));
    let mut lost = BTreeSet::new();
    if along().next().is_none() {
        return lost;
    }
    let shown = ShownElements::of(document, styles);
    let ids: BTreeSet<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
    // Within a `tspan`, and with a path of its own, it is named as something that is not read.
    let is_read = |node: &Node<'_, '_>| node.parent().is_some_and(|parent| parent.has_tag_name((SVG, "text")));
    for node in along().filter(is_read).filter(|node| node.attribute("path").is_none()) {
        let texts = node.descendants().filter(Node::is_text);
        let texts = texts.filter(|text| text.parent().is_some_and(|parent| shown.prints(parent)));
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
