//! Verdicts: what people have decided about a cover, its `waive` and `approved` words, taken out of the tree before anything
//! else is read.

use crate::cover::{Approval, Reach, Waiver, WaiverEnd};
use crate::ground::{Span, Spanned};
use crate::language::context::Desk;
use crate::language::nodes::approved::{APPROVED, BY, LOOK, PLACE, WORDS};
use crate::language::nodes::book::{DATE_HELP, is_date};
use crate::language::nodes::element_words;
use crate::language::nodes::panel::{PANEL, WRAP};
use crate::language::nodes::part::PART;
use crate::language::nodes::waive::{REASON, UNTIL, WAIVE};
use crate::scene::Surface;
use crate::source::{Datum, Node, Reader, Tree, Word};
use std::borrow::Cow;

#[derive(Default)]
pub struct Verdicts {
    pub waivers: Vec<Waiver>,
    pub approvals: Vec<Approval>,
}

/// The tree without these words, and what they say.
pub fn verdicts<'a>(desk: &Desk<'_>, tree: &'a Tree) -> (Cow<'a, Tree>, Verdicts) {
    let mut all = Verdicts::default();
    if !tree.nodes.iter().any(mentions) {
        return (Cow::Borrowed(tree), all);
    }
    let mut tree = tree.clone();
    take(desk, &mut tree.nodes, Some(&Reach::Cover), &mut all);
    (Cow::Owned(tree), all)
}

fn is_verdict(node: &Node) -> bool {
    [&WAIVE, &APPROVED].iter().any(|word| node.name.value == word.name)
}

fn mentions(node: &Node) -> bool {
    is_verdict(node) || node.children.iter().any(mentions)
}

fn take(desk: &Desk<'_>, nodes: &mut Vec<Node>, reach: Option<&Reach>, all: &mut Verdicts) {
    for node in nodes.iter().filter(|node| is_verdict(node)) {
        let word: &'static Word = if node.name.value == WAIVE.name { &WAIVE } else { &APPROVED };
        let reader = Reader::new(node, word, desk.findings);
        let Some(reach) = reach else {
            reader.skip();
            let help = "write it in an element, in a panel, or at the top of the file";
            reader.error(node.name.span, format!("`{}` has no place here", word.name), help);
            continue;
        };
        if node.name.value == WAIVE.name {
            all.waivers.extend(waiver(&reader, reach));
        } else {
            all.approvals.extend(approval(&reader, reach));
        }
    }
    nodes.retain(|node| !is_verdict(node));
    for node in nodes {
        let within = within(node);
        take(desk, &mut node.children, within.as_ref(), all);
    }
}

fn waiver(reader: &Reader<'_>, reach: &Reach) -> Option<Waiver> {
    let (rule, reason, until) = (reader.text(), reader.text_property(&REASON), until(reader));
    let rule = rule?;
    match reason {
        Some(reason) if !reason.value.trim().is_empty() => {
            Some(Waiver { rule, reason: reason.value, until, reach: reach.clone() })
        }
        _ => {
            let help = "write why, for whoever reads the report: `reason=\"…\"`";
            reader.error(reader.span(), "this waiver gives no reason", help);
            None
        }
    }
}

fn until(reader: &Reader<'_>) -> Option<Spanned<WaiverEnd>> {
    let (value, slot, what) = reader.property_slot(&UNTIL)?;
    if let Datum::Text(date) = &value.datum {
        if !is_date(date) {
            reader.error(value.span, format!("{date:?} is not a day of the calendar"), DATE_HELP);
            return None;
        }
        return Some(Spanned::new(WaiverEnd::Date(date.clone()), value.span));
    }
    let version = reader.as_number(value, slot, &what)?;
    Some(Spanned::new(WaiverEnd::Version(version.value as u32), value.span))
}

fn approval(reader: &Reader<'_>, reach: &Reach) -> Option<Approval> {
    let (by, [words, place, look]) =
        (reader.text_property(&BY), [&WORDS, &PLACE, &LOOK].map(|word| digest(reader, word)));
    let Some(by) = by.filter(|by| !by.value.trim().is_empty()) else {
        reader.error(reader.span(), "this approval does not say whose it is", "write `by=\"…\"`, a name and a day");
        return None;
    };
    Some(Approval { by: by.value, words, place, look, span: reader.span(), reach: reach.clone() })
}

fn digest(reader: &Reader<'_>, word: &'static Word) -> Option<Spanned<String>> {
    let stated = reader.text_property(word)?;
    let whole = stated.value.len() == Approval::DIGITS && stated.value.bytes().all(|digit| digit.is_ascii_hexdigit());
    if whole {
        return Some(stated);
    }
    let message = format!("{:?} is not {} figures and letters from a to f", stated.value, Approval::DIGITS);
    reader.error(stated.span, message, "take it out, and `jaconet check` says what to write");
    None
}

/// What a verdict inside a node is about.
fn within(node: &Node) -> Option<Reach> {
    let first = node.values.first();
    match node.name.value.as_str() {
        word if word == PANEL.name => {
            first.map(|name| Surface::named(&name.written()).map_or(Reach::Nowhere, Reach::Panel))
        }
        word if word == WRAP.name => Some(Reach::Panel(Surface::Wrap)),
        word if word == PART.name => Some(element(node, first.map(|name| name.span))),
        word if element_words().any(|known| known.name == word) => Some(element(node, first.map(|name| name.span))),
        _ => None,
    }
}

fn element(node: &Node, name: Option<Span>) -> Reach {
    Reach::Element { whole: node.span, name: name.unwrap_or(node.name.span) }
}
