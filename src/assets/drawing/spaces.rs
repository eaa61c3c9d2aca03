//! Spaces: those at the beginning of a piece of text (`Salt<tspan> and</tspan>`), which the SVG reader drops, though nothing but a
//! letter stands before them. It is handed a space that it does not know as one.

use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::edited::Edit;
use std::ops::Range;
use usvg::roxmltree::{Document, Node};

/// As wide as a space, and kept; written as it is, since a part of plain characters knows no numbers.
const KEPT: &str = "\u{a0}";
/// What a part of plain characters begins with.
const PLAIN: &str = "<![CDATA[";

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
                edits.extend(first_blanks(&text[run.range()]).map(|blanks| {
                    let start = run.range().start;
                    (start + blanks.start..start + blanks.end, KEPT.to_owned())
                }));
            }
            if !words.is_empty() {
                before = Some((depth, words.ends_with(|letter: char| letter.is_ascii_whitespace())));
            }
        }
    }
    edits
}

/// Where the blanks stand that a piece begins with, as it is written: some by their numbers, as in `&#32;`.
fn first_blanks(raw: &str) -> Option<Range<usize>> {
    if let Some(plain) = raw.strip_prefix(PLAIN) {
        let blanks = plain.len() - plain.trim_ascii_start().len();
        return (blanks > 0).then_some(PLAIN.len()..PLAIN.len() + blanks);
    }
    let mut rest = raw.trim_ascii_start();
    while let Some((number, after)) = rest.strip_prefix("&#").and_then(|rest| rest.split_once(';')) {
        let code = number.strip_prefix('x').map_or(number.parse(), |hex| u32::from_str_radix(hex, 16));
        let blank = code.ok().and_then(char::from_u32).is_some_and(|letter| letter.is_ascii_whitespace());
        if !blank {
            break;
        }
        rest = after.trim_ascii_start();
    }
    (rest.len() < raw.len()).then_some(0..raw.len() - rest.len())
}

fn is_preserved(run: Node<'_, '_>) -> bool {
    const XML: &str = "http://www.w3.org/XML/1998/namespace";
    run.ancestors().find_map(|above| above.attribute((XML, "space"))) == Some("preserve")
}
