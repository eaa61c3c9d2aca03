//! All rules: those that every check asks, and the one that a command of its own asks.

use crate::check::drift;
use crate::check::rule::CheckRule;
use crate::check::rules::RULES;

pub fn all_rules() -> impl Iterator<Item = &'static CheckRule> {
    RULES.iter().copied().chain([&drift::RULE])
}
