//! Limits in force: what a cover's rules measure against, and where each number was set.

use crate::check::all_rules::all_rules;
use crate::cover::StatedLimits;
use crate::ground::Span;

/// One limit of a rule, in words.
pub struct LimitInForce {
    pub name: &'static str,
    #[cfg(any(test, feature = "testing"))]
    pub says: &'static str,
    pub value: String,
    /// What holds where nobody states another, and where that comes from.
    pub usual: String,
    pub source: &'static str,
    /// Where the value was stated; `None`: it is the usual one.
    pub set: Option<Span>,
}

/// The limits of a rule for what a cover and the files under it state. None for what is no rule, or has no limits.
pub fn limits_in_force(rule: &str, stated: &StatedLimits) -> Vec<LimitInForce> {
    let limits = all_rules().find(|known| known.name == rule).map_or(&[][..], |known| known.limits);
    let one = |limit: &crate::check::limit::RuleLimit| {
        let set = stated.get(rule, limit.word.name);
        LimitInForce {
            name: limit.word.name,
            #[cfg(any(test, feature = "testing"))]
            says: limit.word.says,
            value: limit.shown(set.map_or_else(|| limit.usual(), |set| set.value)),
            usual: limit.shown(limit.usual()),
            source: limit.source,
            set: set.map(|set| set.span),
        }
    };
    limits.iter().map(one).collect()
}

#[cfg(any(test, feature = "testing"))]
/// Every rule that has limits.
pub fn rules_with_limits() -> impl Iterator<Item = &'static str> {
    all_rules().filter(|rule| !rule.limits.is_empty()).map(|rule| rule.name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::drawn;
    use std::collections::BTreeSet;

    #[test]
    fn every_usual_value_is_in_its_range_and_every_name_stands_once() {
        use crate::source::Takes;
        let mut count = 0;
        for rule in all_rules() {
            let names: BTreeSet<&str> = rule.limits.iter().map(|limit| limit.word.name).collect();
            assert_eq!(names.len(), rule.limits.len(), "{}", rule.name);
            for limit in rule.limits {
                let usual = limit.counted(limit.usual());
                let (Takes::Number(least, most) | Takes::Percent(least, most) | Takes::Length(_, least, most)) =
                    limit.word.takes[0].takes
                else {
                    panic!("{} {} is not a number", rule.name, limit.word.name);
                };
                assert!((least..=most).contains(&usual) && usual > 0.0, "{} {}: {usual}", rule.name, limit.word.name);
                assert!(!limit.source.is_empty(), "{} {}", rule.name, limit.word.name);
                count += 1;
            }
        }
        assert!(count > 40, "{count}");
    }

    /// Whatever a cover states is what the rule asks for.
    #[test]
    fn every_limit_can_be_stated() {
        for rule in all_rules().filter(|rule| !rule.limits.is_empty()) {
            for limit in rule.limits {
                let value = ((limit.counted(limit.usual()) + 1.0) * 1000.0).round() / 1000.0;
                let name = limit.word.name;
                let (cover, _) = drawn(&format!("limit {} {name}={value}", rule.name));
                let found = limits_in_force(rule.name, &cover.facts.limits);
                let found = found.iter().find(|found| found.name == name).expect("it has this limit");
                assert!(found.set.is_some() && found.value.starts_with(&value.to_string()), "{} {name}", rule.name);
            }
        }
    }

    /// On the page's own example: a number that allows more finds no more than the usual one, and one that allows less no less.
    #[test]
    fn what_relaxes_finds_no_more() {
        use crate::check::testing::{example_text, reported};
        use crate::source::Takes;
        let (mut tried, mut told) = (0, Vec::new());
        for rule in all_rules().filter(|rule| rule.name != "font-embedding") {
            let Some(example) = example_text(rule.source).filter(|_| !rule.limits.is_empty()) else { continue };
            let found = |limit: &crate::check::limit::RuleLimit, value: f64| {
                let stated = format!("limit {} {}={value}", rule.name, limit.word.name);
                let said = reported(rule, &format!("{stated}\n{example}"));
                let weight = |finding: &crate::ground::Finding| match finding.severity {
                    crate::ground::Severity::Error => 100,
                    crate::ground::Severity::Warning => 10,
                    crate::ground::Severity::Note => 1,
                };
                said.iter().map(weight).sum::<usize>()
            };
            for limit in rule.limits {
                let (Takes::Number(least, most) | Takes::Percent(least, most) | Takes::Length(_, least, most)) =
                    limit.word.takes[0].takes
                else {
                    continue;
                };
                let usual = limit.counted(limit.usual());
                // Under 1 a share reads as if it were no percentage.
                let least = if limit.unit() == "%" { least.max(1.0) } else { least };
                let [small, great] =
                    [(usual / 4.0).max(least), (usual * 4.0).min(most)].map(|value| found(limit, value));
                let (relaxed, strict) = if limit.is_most { (great, small) } else { (small, great) };
                assert!(relaxed <= strict, "{} {}: {relaxed} relaxed, {strict} strict", rule.name, limit.word.name);
                tried += 1;
                if relaxed < strict {
                    told.push(limit.word.name);
                }
            }
        }
        // The rest do not decide in their examples.
        assert!(told.len() * 2 > tried, "{} of {tried} tell: {told:?}", told.len());
    }
}
