//! Order: elements as they lie on paper, and names that stand twice.

use crate::cover::{Element, Order};
use crate::ground::{Span, Spanned};
use crate::language::context::Desk;
use crate::scene::Surface;
use crate::source::offer;
use std::collections::BTreeMap;

/// As they lie on paper; names that stand twice are reported.
pub fn in_order(desk: &Desk<'_>, all: Vec<Element>) -> Vec<Element> {
    report_twins(desk, &all);
    reorder(desk, all)
}

fn report_twins(desk: &Desk<'_>, all: &[Element]) {
    let mut seen: BTreeMap<(Surface, &str), Span> = BTreeMap::new();
    for element in all.iter().filter(|element| !element.body.absent()) {
        let key = (element.panel, element.name.value.as_str());
        if seen.insert(key, element.name.span).is_some() {
            let message = format!("`{}` has two elements called `{}`", element.panel, element.name.value);
            desk.findings.borrow_mut().error(
                element.name.span,
                message,
                "give one of them another name; if one is the series', `drop` it first",
            );
        }
    }
}

/// `under` and `over` move an element next to another in the order of printing.
fn reorder(desk: &Desk<'_>, mut all: Vec<Element>) -> Vec<Element> {
    let moved: Vec<(Surface, Spanned<String>, Order)> = all
        .iter()
        .filter_map(|element| Some((element.panel, element.name.clone(), element.look.order.clone()?)))
        .collect();
    for (panel, name, order) in moved {
        let is = |element: &Element| element.panel == panel && element.name == name && !element.body.absent();
        let Some(from) = all.iter().position(is) else { continue };
        let element = all.remove(from);
        let to = match other(&all, &order, panel) {
            Ok(at) => at + usize::from(order.over),
            Err((message, help)) => {
                desk.findings.borrow_mut().error(order.name.span, message, help);
                from
            }
        };
        all.insert(to, element);
    }
    all
}

/// Where the other element stands: in the panel that is named, in the same one, or in the only other that has it. `Err`
/// says what is wrong and what helps.
fn other(all: &[Element], order: &Order, own: Surface) -> Result<usize, (String, String)> {
    let (name, way) = (&order.name.value, if order.over { "over" } else { "under" });
    let called = || all.iter().enumerate().filter(|(_, other)| other.name.value == *name);
    let within = |panel: Surface| called().find(|(_, other)| other.panel == panel).map(|(at, _)| at);
    if let Some(panel) = &order.panel {
        return Surface::named(&panel.value).and_then(within).ok_or_else(|| {
            let known: Vec<&str> = called().map(|(_, other)| other.panel.word()).collect();
            let message = format!("there is no element `{name}` in `{}` to lie {way}", panel.value);
            (message, if known.is_empty() { known_names(all, name) } else { offer(&panel.value, &known) })
        });
    }
    if let Some(at) = within(own) {
        return Ok(at);
    }
    let shown: Vec<(usize, &Element)> = called().filter(|(_, other)| !other.body.absent()).collect();
    match &shown[..] {
        [(_, first), .., (_, last)] if first.panel != last.panel => {
            let mut panels: Vec<&str> = shown.iter().map(|(_, other)| other.panel.word()).collect();
            panels.dedup();
            let message = format!("several panels have an element `{name}`: {}", panels.join(", "));
            Err((message, format!("name the panel: `{way} {name} of={}`", last.panel)))
        }
        [(at, _), ..] => Ok(*at),
        [] => called()
            .map(|(at, _)| at)
            .next()
            .ok_or_else(|| (format!("there is no element `{name}` to lie {way}"), known_names(all, name))),
    }
}

fn known_names(all: &[Element], name: &str) -> String {
    let known: Vec<&str> = all.iter().map(|element| element.name.value.as_str()).collect();
    offer(name, &known)
}
