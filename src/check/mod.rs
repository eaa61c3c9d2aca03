//! Questions to the finished cover, and what is told about it.

mod bars;
mod exam;
mod ground;
mod pages;
mod piece;
mod rule;
mod rules;
#[cfg(test)]
mod testing;
mod words;

use crate::assets::Darkroom;
use crate::cover::{Cover, manual};
use crate::ground::Findings;
use crate::scene::Scene;
use std::cell::RefCell;

pub use pages::PAGES;
pub use rule::Rule;
pub use rules::RULES;

use exam::Exam;
use rule::Report;

/// Asks every rule; what they tell is added to the findings.
pub fn check(findings: &RefCell<Findings>, cover: &Cover, scene: &Scene, darkroom: &Darkroom) {
    let exam = Exam::new(cover, scene, darkroom);
    for rule in RULES {
        let mut report = Report::new(rule.name);
        (rule.run)(&exam, &mut report);
        findings.borrow_mut().extend(report.findings);
    }
}

/// The manual page of whatever a finding may be called.
pub fn explain(name: &str) -> Option<String> {
    let rules = RULES.iter().map(|rule| (rule.name, rule.source));
    rules.chain(PAGES.iter().copied()).find(|(known, _)| *known == name).map(|(_, source)| manual(source))
}
