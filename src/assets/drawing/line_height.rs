//! Line height: `font: 24px/1.5 Inter` states a height of lines, which means nothing to SVG. The SVG reader gives up
//! such a `font`, its families and all.

use crate::assets::drawing::edited::Edit;
use std::ops::Range;
use usvg::roxmltree::{Document, Node};

/// Takes them out of styles and style sheets.
pub fn edits(text: &str, document: &Document<'_>) -> Vec<Edit> {
    let mut places: Vec<Range<usize>> = Vec::new();
    for node in document.descendants().filter(Node::is_element) {
        places.extend(node.attribute_node("style").map(|style| style.range_value()));
        places.extend(node.has_tag_name("style").then(|| node.range()));
    }
    let heights = places.into_iter().flat_map(|place| {
        let start = place.start;
        heights(&text[place]).into_iter().map(move |height| start + height.start..start + height.end)
    });
    heights.map(|height| (height, " ".to_owned())).collect()
}

/// Bytes from the name of the property to the end of the height.
const LONGEST: usize = 200;

/// The places of all of them, with their strokes.
fn heights(css: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    for (at, name) in css.match_indices("font") {
        let is_name = |letter: char| letter.is_alphanumeric() || matches!(letter, '-' | '_' | '.' | '#');
        let rest = &css[at + name.len()..];
        let rest = &rest[..rest.floor_char_boundary(LONGEST)];
        if css[..at].ends_with(is_name) || !rest.trim_start().starts_with(':') {
            continue;
        }
        // Families come after it.
        let size = rest.split([';', '}', '<', '&', '"', '\'', ',', '(']).next().unwrap_or_default();
        let Some(stroke) = size.find('/').filter(|stroke| !size[stroke + 1..].starts_with('*')) else { continue };
        let height = size[stroke + 1..].trim_start();
        let height = &height[..height.find(char::is_whitespace).unwrap_or(height.len())];
        let start = at + name.len() + stroke;
        let end = at + name.len() + (height.as_ptr() as usize - rest.as_ptr() as usize) + height.len();
        found.push(start..end);
    }
    found
}
