//! Relaxed: limits of the printer in place of which the cover states one that allows more, and a press in place of the
//! printer's.

use crate::assets::Separation;
use crate::check::all_rules::all_rules;
use crate::check::exam::Exam;
use crate::check::visible::VisibleElement;
use crate::cover::Cover;
use crate::ground::{Finding, Severity, number, same_condition};

const NAME: &str = "limit-relaxed";
const HELP: &str = "the printer measures against the other number: take the line out, or agree it with the printer";
const PRESS_HELP: &str = "colours are made for the press named here: take the line out, or agree it with the printer";

/// Notes of every limit that is relaxed.
pub fn relaxed(exam: &Exam<'_>, cover: &Cover, all: &mut Vec<Finding>) {
    let (in_force, printer) = (&cover.facts.limits, &cover.facts.printer);
    for rule in all_rules() {
        for limit in rule.limits {
            let name = limit.word.name;
            let (Some(own), Some(asked)) = (in_force.get(rule.name, name), printer.limits.get(rule.name, name)) else {
                continue;
            };
            if limit.relaxes(own.value, asked.value) {
                let message = format!(
                    "`{name}` of `{}` is {} here, and {} in the printer's file",
                    rule.name,
                    limit.shown(own.value),
                    limit.shown(asked.value)
                );
                all.push(Finding::new(Severity::Note, NAME, own.span, message).help(HELP));
            }
        }
    }
    let press = &cover.facts.press;
    let own = press.profile.condition();
    if let Some(asked) = printer.condition.as_deref().filter(|asked| !same_condition(asked, own)) {
        let message = format!("the press is {own} here, and {asked} in the printer's file");
        all.push(Finding::new(Severity::Note, NAME, press.span, message).help(PRESS_HELP));
    }
    if let Some(asked) = printer.ink_limit.filter(|asked| press.ink_limit > *asked) {
        let message =
            format!("`ink-limit` is {} here, and {} in the printer's file", percent(press.ink_limit), percent(asked));
        all.push(Finding::new(Severity::Note, NAME, press.span, message).help(HELP));
    }
    let relaxes = |asked: &f64| press.limit_inks.is_none_or(|own| own > *asked + 1e-9) && has_more(exam, *asked);
    if let Some(asked) = printer.limit_inks.filter(relaxes) {
        let own = press.limit_inks.map_or_else(|| "not stated".to_owned(), percent);
        let message = format!("`limit-inks` is {own} here, and {} in the printer's file", percent(asked));
        // Whole ones; more would be over the limit.
        let most = number((asked * 100.0 + 1e-6).floor());
        let help = format!("write `limit-inks={most}` here, too, or agree it with the printer");
        all.push(Finding::new(Severity::Note, NAME, press.span, message).help(help));
    }
}

/// With the parts of a percent that tell two limits apart.
fn percent(share: f64) -> String {
    format!("{} %", number(share * 100.0))
}

/// Whether a picture may have more ink on one spot than so much.
fn has_more(exam: &Exam<'_>, asked: f64) -> bool {
    let mut pictures = exam.elements.iter().flat_map(VisibleElement::pictures);
    pictures.any(|(placed, _)| {
        let own = placed.separation.limit.unwrap_or(u16::MAX);
        let limited = Separation { limit: Some(own), ..placed.separation };
        let kept = exam.scene.profile.kept_limit(&placed.picture, limited);
        placed.paint.is_none() && kept.is_some_and(|own| f64::from(own) > asked * 100.0 + 1e-6)
    })
}
