//! Spaces: those at the beginning of a piece of text (`Salt<tspan> and</tspan>`), which the SVG reader drops, though nothing but a
//! letter stands before them. It is handed a space that it does not know as one.

use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::edited::Edit;
use usvg::roxmltree::{Document, Node};

/// As wide as a space, and kept.
const KEPT: &str = "&#xa0;";

pub fn edits(text: &str, document: &Document<'_>) -> Vec<Edit> {
    let mut edits = Vec::new();
    for node in document.descendants().filter(|node| node.has_tag_name((SVG, "text"))) {
        let runs: Vec<Node<'_, '_>> = node.descendants().filter(Node::is_text).collect();
        let last = runs.iter().rposition(|run| run.text().is_some_and(|text| !text.trim().is_empty()));
        let mut before: Option<(usize, bool)> = None;
        for (at, run) in runs.iter().enumerate().take_while(|(at, _)| last.is_some_and(|last| *at <= last)) {
            let words = run.text().unwrap_or_default();
            let depth = run.ancestors().count();
            let led = words.starts_with(|letter: char| letter.is_ascii_whitespace());
            let is_dropped = led && before.is_some_and(|(above, spaced)| above < depth && !spaced);
            // A last piece of spaces alone is none that parts words.
            if is_dropped && (at < last.unwrap_or_default() || !words.trim().is_empty()) && !is_preserved(*run) {
                let place = run.range();
                let raw = &text[place.clone()];
                let spaces = raw.len() - raw.trim_ascii_start().len();
                edits.push((place.start..place.start + spaces, KEPT.to_owned()));
            }
            if !words.is_empty() {
                before = Some((depth, words.ends_with(|letter: char| letter.is_ascii_whitespace())));
            }
        }
    }
    edits
}

fn is_preserved(run: Node<'_, '_>) -> bool {
    const XML: &str = "http://www.w3.org/XML/1998/namespace";
    run.ancestors().find_map(|above| above.attribute((XML, "space"))) == Some("preserve")
}
