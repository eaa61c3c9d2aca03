//! Stated: each property that a drawing states, as an attribute or by CSS, and where in its text it stands.

use simplecss::DeclarationTokenizer;
use std::ops::Range;
use usvg::roxmltree::{Document, Node};

pub struct StatedValue<'a> {
    pub name: &'a str,
    /// As the text writes it.
    pub value: &'a str,
    pub place: Range<usize>,
    /// With its name.
    pub whole: Range<usize>,
    pub by_css: bool,
}

/// What holds markup by name (`&amp;`) is passed over.
pub fn stated<'a>(text: &'a str, document: &'a Document<'_>, mut visit: impl FnMut(StatedValue<'a>)) {
    let drawn = |node: &Node<'_, '_>| node.is_element() && !is_animation(*node);
    for node in document.descendants().filter(drawn) {
        for attribute in node.attributes().filter(|attribute| attribute.namespace().is_none()) {
            let place = attribute.range_value();
            let value = &text[place.clone()];
            if value.contains('&') {
                continue;
            }
            if attribute.name() == "style" {
                declared(text, place, &mut visit);
            } else {
                let (name, whole) = (attribute.name(), attribute.range());
                visit(StatedValue { name, value, place, whole, by_css: false });
            }
        }
        if node.has_tag_name("style") {
            for run in node.children().filter(Node::is_text) {
                for block in blocks(text, run.range()) {
                    declared(text, block, &mut visit);
                }
            }
        }
    }
}

/// Whose `fill` says what remains at its end.
pub fn is_animation(node: Node<'_, '_>) -> bool {
    matches!(node.tag_name().name(), "animate" | "animateTransform" | "animateMotion" | "animateColor" | "set")
}

fn declared<'a>(text: &'a str, place: Range<usize>, visit: &mut impl FnMut(StatedValue<'a>)) {
    let at = |part: &str| part.as_ptr() as usize - text.as_ptr() as usize;
    for declaration in DeclarationTokenizer::from(&text[place]) {
        let start = at(declaration.value);
        let place = start..start + declaration.value.len();
        let whole = at(declaration.name)..place.end;
        visit(StatedValue { name: declaration.name, value: declaration.value, place, whole, by_css: true });
    }
}

/// What stands between the innermost braces of a style sheet; remarks and what is quoted may hold any letter.
fn blocks(text: &str, sheet: Range<usize>) -> Vec<Range<usize>> {
    let (mut blocks, mut start, mut at) = (Vec::new(), None, sheet.start);
    while let Some(next) = text[at..sheet.end].find(['{', '}', '"', '\'', '/']) {
        let letter = at + next;
        let (after, rest) = (letter + 1, &text[letter + 1..sheet.end]);
        let past =
            |end: &str, from: usize| rest[from..].find(end).map_or(sheet.end, |at| after + from + at + end.len());
        at = after;
        match &text[letter..after] {
            "{" => start = Some(after),
            "}" => blocks.extend(start.take().map(|start| start..letter)),
            "/" if rest.starts_with('*') => at = past("*/", 1),
            "/" => {}
            quote => at = past(quote, 0),
        }
    }
    blocks
}
