//! Questions to the finished cover, and what is reported about it.

mod all_rules;
mod approved;
mod bars;
mod code_inks;
mod composed_letters;
mod cut_away;
mod drift;
mod exam;
mod fine_parts;
mod full_plate;
mod hidden;
mod ink_sums;
mod keyline;
mod limit;
mod limits_in_force;
mod pages;
mod patches;
mod phrases;
mod prices;
mod proof;
mod qr_marks;
mod quote_marks;
mod relaxed;
mod rule;
mod rules;
mod series;
mod shadow;
mod spellings;
mod stated_ink;
mod subjects;
#[cfg(test)]
mod testing;
mod text_languages;
mod under;
mod visible;
mod waive;
mod without_consequences;
mod words;

use crate::assets::Darkroom;
use crate::cover::Cover;
use crate::ground::{Finding, Findings, number};
use crate::scene::Scene;
use crate::source::{RuleWords, manual};
use rayon::prelude::*;
use std::cell::RefCell;
use std::sync::LazyLock;

use all_rules::all_rules;
pub use approved::standing;
pub use drift::drift_of;
use exam::Exam;
pub use ink_sums::{InkSums, MeasuredPlates, measured_plates};
pub use keyline::keyline_differences;
use limit::RuleLimit;
#[cfg(any(test, feature = "testing"))]
pub use limits_in_force::rules_with_limits;
pub use limits_in_force::{LimitInForce, limits_in_force};
pub use pages::PAGES;
use rule::{CheckRule, RuleFindings};
use rules::RULES;
pub use series::{Appearance, Stray, appearance, strays};
use subjects::subjects;
use without_consequences::without_consequences;

/// Asks every rule; what they tell is added to the findings, in the order of the rules. Where `asked` is to be called after
/// each rule, with its name, one is asked after the other. `measured`: the plates of a sheet that is printed.
pub fn check(
    findings: &RefCell<Findings>,
    cover: &Cover,
    scene: &Scene,
    measured: Option<&MeasuredPlates>,
    darkroom: &Darkroom,
    asked: Option<&dyn Fn(&'static str)>,
) {
    let exam = Exam { measured, ..Exam::new(cover, scene, darkroom) };
    let found = |rule: &CheckRule| {
        let mut found = RuleFindings::new(rule.name, &cover.facts.limits);
        (rule.run)(&exam, &mut found);
        found.all
    };
    let rules = RULES.iter().filter(|rule| rule.media.holds(&scene.sheet));
    let mut all: Vec<Finding> = if let Some(asked) = asked {
        rules.flat_map(|rule| (found(rule), asked(rule.name)).0).collect()
    } else {
        let rules: Vec<&CheckRule> = rules.copied().collect();
        rules.into_par_iter().flat_map_iter(found).collect()
    };
    approved::approved(cover, scene, &mut all);
    relaxed::relaxed(&exam, cover, &mut all);
    without_consequences(cover, &findings.borrow(), &mut all);
    subjects(&exam, &mut all);
    waive::waive(cover, &mut all);
    findings.borrow_mut().extend(all);
}

/// Says what drift of cuts, folds and plates would expose, and how far a cover drifts.
pub fn rehearse(findings: &RefCell<Findings>, cover: &Cover, scene: &Scene, darkroom: &Darkroom) {
    let exam = Exam::new(cover, scene, darkroom);
    let mut found = RuleFindings::new(drift::RULE.name, &cover.facts.limits);
    if drift::RULE.media.holds(&scene.sheet) {
        (drift::RULE.run)(&exam, &mut found);
    }
    subjects(&exam, &mut found.all);
    waive::answered(cover, &mut found.all);
    findings.borrow_mut().extend(found.all);
}

/// The rules that have limits, each with the words of its limits.
pub fn limit_words() -> &'static [RuleWords] {
    static WORDS: LazyLock<Vec<RuleWords>> = LazyLock::new(|| {
        let with_limits = all_rules().filter(|rule| !rule.limits.is_empty());
        with_limits.map(|rule| (rule.name, rule.limits.iter().map(|limit| &limit.word).collect())).collect()
    });
    &WORDS
}

/// Whatever a finding may be called: rules, and what other rooms raise.
pub fn names() -> impl Iterator<Item = &'static str> {
    all_rules().map(|rule| rule.name).chain(PAGES.iter().map(|(name, _)| *name))
}

/// The manual page of whatever a finding may be called.
pub fn explain(name: &str) -> Option<String> {
    if let Some(rule) = all_rules().find(|rule| rule.name == name) {
        let limits: String = rule.limits.iter().map(|limit| stated(rule.name, limit)).collect();
        let limits = if limits.is_empty() { limits } else { format!("\n# Limits\n\n```kdl\n{limits}```\n") };
        return Some(format!("{}\nAt its worst: {}.\n{limits}", manual(rule.source), rule.severity.word()));
    }
    PAGES.iter().find(|(known, _)| *known == name).map(|(_, source)| manual(source))
}

/// A limit as a cover would state it, with its usual value, and where that comes from.
fn stated(rule: &str, limit: &RuleLimit) -> String {
    let says = format!("limit {rule} {}={}", limit.word.name, number(limit.counted(limit.usual())));
    format!("{says:<48}// {}: {}\n", limit.word.says, limit.source)
}
