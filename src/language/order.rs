//! Order: elements as they lie on paper, and names that stand twice.

use crate::cover::{Element, Order};
use crate::ground::{Span, Spanned};
use crate::language::context::Desk;
use crate::source::offer;
use std::collections::BTreeMap;

/// As they lie on paper; names that stand twice are reported.
pub fn in_order(desk: &Desk<'_>, all: Vec<Element>) -> Vec<Element> {
    report_twins(desk, &all);
    reorder(desk, all)
}

fn report_twins(desk: &Desk<'_>, all: &[Element]) {
    let mut seen: BTreeMap<(&str, &str), Span> = BTreeMap::new();
    for element in all.iter().filter(|element| !element.body.absent()) {
        let key = (element.panel.as_str(), element.name.value.as_str());
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
    let moved: Vec<(String, Spanned<String>, Order)> = all
        .iter()
        .filter_map(|element| Some((element.panel.clone(), element.name.clone(), element.look.order.clone()?)))
        .collect();
    for (panel, name, order) in moved {
        let (target, above) = match &order {
            Order::Under(target) => (target, false),
            Order::Over(target) => (target, true),
        };
        let is = |element: &Element| element.panel == panel && element.name == name && !element.body.absent();
        let Some(from) = all.iter().position(is) else { continue };
        let element = all.remove(from);
        let same_panel = all.iter().position(|other| other.panel == panel && other.name.value == target.value);
        let found = same_panel.or_else(|| all.iter().position(|other| other.name.value == target.value));
        if let Some(at) = found {
            all.insert(at + usize::from(above), element);
            continue;
        }
        let known: Vec<&str> = all.iter().map(|element| element.name.value.as_str()).collect();
        let message =
            format!("there is no element `{}` to lie {} ", target.value, if above { "over" } else { "under" });
        desk.findings.borrow_mut().error(target.span, message.trim_end(), offer(&target.value, &known));
        all.insert(from, element);
    }
    all
}
