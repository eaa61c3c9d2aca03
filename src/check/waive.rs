//! Waive: findings that the author has answered already become notes with the reason.

use crate::check::rules::RULES;
use crate::cover::Cover;
use crate::ground::{Finding, Severity};
use crate::source::offer;

/// Turns what the cover waives into notes, and adds what is wrong with its waivers.
pub fn waive(cover: &Cover, findings: &mut Vec<Finding>) {
    let mut remarks = Vec::new();
    for waiver in &cover.waivers {
        let (rule, span) = (waiver.rule.value.as_str(), waiver.rule.span);
        let known = RULES.iter().find(|known| known.name == rule);
        let Some(known) = known else {
            let known: Vec<&str> = RULES.iter().map(|rule| rule.name).collect();
            let message = format!("there is no rule `{rule}` that can be waived");
            remarks.push(Finding::new(Severity::Error, "language", span, message).help(offer(rule, &known)));
            continue;
        };
        let mut silenced = false;
        for finding in findings.iter_mut().filter(|finding| finding.rule == rule) {
            if waiver.reach.holds(finding.span, finding.place, cover.sheet()) {
                silenced = true;
                finding.severity = Severity::Note;
                finding.message = format!("waived: {}", finding.message);
                finding.help = Some(format!("the reason given: {}", waiver.reason));
            }
        }
        // What is printed waives for the printed cover alone.
        if !silenced && known.media.holds(cover.sheet()) {
            let message = format!("this waiver of `{rule}` silences nothing");
            remarks.push(Finding::new(Severity::Note, "waiver-unused", span, message).help("take it out"));
        }
    }
    findings.extend(remarks);
}

#[cfg(test)]
mod tests {
    use crate::check::check;
    use crate::check::testing::{DARKROOM, drawn};
    use crate::ground::{Findings, Severity};
    use std::cell::RefCell;

    /// Severity, rule and message of all that the whole check finds.
    fn found(cover: &str) -> Vec<(Severity, &'static str, String)> {
        let (cover, scene) = drawn(cover);
        let findings = RefCell::new(Findings::default());
        check(&findings, &cover, &scene, &DARKROOM);
        findings.borrow().iter().map(|finding| (finding.severity, finding.rule, finding.message.clone())).collect()
    }

    const BARS: &str = "panel back { barcode code { right safe; bottom safe; scale 100 } }\n";

    fn title(element: &str, panel: &str, top: &str) -> Vec<(Severity, &'static str, String)> {
        found(&format!(
            "{BARS}{top}\npanel front {{ {panel}
                text title words=\"{{title}}\" {{ left 30; right trim 2; top 40; align right; {element} }}
                text other words=\"{{title}}\" {{ left 30; right trim 2; top 80; align right }} }}"
        ))
    }

    #[test]
    fn in_an_element_a_panel_and_a_cover() {
        const WAIVE: &str = "waive outside-safe reason=\"it is meant\"";
        let severities = |all: Vec<(Severity, &str, String)>| -> Vec<Severity> {
            all.into_iter().filter(|found| found.1 == "outside-safe").map(|found| found.0).collect()
        };
        assert_eq!(severities(title("", "", "")), [Severity::Error, Severity::Error]);
        assert_eq!(severities(title(WAIVE, "", "")), [Severity::Note, Severity::Error]);
        assert_eq!(severities(title("", WAIVE, "")), [Severity::Note, Severity::Note]);
        assert_eq!(severities(title("", "", WAIVE)), [Severity::Note, Severity::Note]);
        let stated = title(WAIVE, "", "");
        assert!(stated.iter().any(|found| found.2.starts_with("waived: `title` stands 2")), "{stated:?}");
    }

    #[test]
    fn one_that_silences_nothing_or_names_no_rule_is_reported() {
        let unused = title("waive hairline reason=\"thin on purpose\"", "", "");
        let note = (Severity::Note, "waiver-unused", "this waiver of `hairline` silences nothing".to_owned());
        assert!(unused.contains(&note), "{unused:?}");
        let strange = title("waive outside-save reason=\"a slip\"", "", "");
        let error = (Severity::Error, "language", "there is no rule `outside-save` that can be waived".to_owned());
        assert!(strange.contains(&error), "{strange:?}");
    }
}
