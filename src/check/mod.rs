//! Questions to the finished cover, and what is reported about it.

mod approved;
mod bars;
mod composed_letters;
mod exam;
mod hidden;
mod ink_sums;
mod pages;
mod proof;
mod rule;
mod rules;
mod series;
mod shadow;
mod stated_ink;
#[cfg(test)]
mod testing;
mod under;
mod visible;
mod waive;
mod words;

use crate::assets::Darkroom;
use crate::cover::Cover;
use crate::ground::Findings;
use crate::scene::Scene;
use crate::source::manual;
use std::cell::RefCell;

use exam::Exam;
pub use ink_sums::{InkSums, ink_sums};
pub use pages::PAGES;
use rule::RuleFindings;
use rules::RULES;
pub use series::{Appearance, Stray, appearance, strays};

/// Asks every rule; what they tell is added to the findings.
pub fn check(findings: &RefCell<Findings>, cover: &Cover, scene: &Scene, darkroom: &Darkroom) {
    let exam = Exam::new(cover, scene, darkroom);
    let mut all = Vec::new();
    for rule in RULES.iter().filter(|rule| rule.media.holds(&scene.sheet)) {
        let mut found = RuleFindings::new(rule.name);
        (rule.run)(&exam, &mut found);
        all.extend(found.all);
    }
    approved::approved(cover, scene, &mut all);
    waive::waive(cover, &mut all);
    findings.borrow_mut().extend(all);
}

/// Whatever a finding may be called: rules, and what other rooms raise.
pub fn names() -> impl Iterator<Item = &'static str> {
    RULES.iter().map(|rule| rule.name).chain(PAGES.iter().map(|(name, _)| *name))
}

/// The manual page of whatever a finding may be called.
pub fn explain(name: &str) -> Option<String> {
    if let Some(rule) = RULES.iter().find(|rule| rule.name == name) {
        return Some(format!("{}\nAt its worst: {}.\n", manual(rule.source), rule.severity.word()));
    }
    PAGES.iter().find(|(known, _)| *known == name).map(|(_, source)| manual(source))
}
