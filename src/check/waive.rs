//! Waive: findings that the author has answered already become notes with the reason, for as long as the waiver holds.

use crate::check::all_rules::all_rules;
use crate::check::rules::RULES;
use crate::cover::{Book, Cover, Waiver, WaiverEnd};
use crate::ground::{Finding, Severity};
use crate::source::offer;

/// Without these the file itself would be false: letters that are not there, a font that may not be embedded, plates that a
/// press would mistake for others.
const BINDING: [&str; 3] = ["missing-glyph", "font-embedding", "spot-names"];

/// Turns what the cover waives into notes, and adds what is wrong with its waivers.
pub fn waive(cover: &Cover, findings: &mut Vec<Finding>) {
    let mut remarks = Vec::new();
    for waiver in &cover.waivers {
        let (rule, span) = (waiver.rule.value.as_str(), waiver.rule.span);
        let known = all_rules().find(|known| known.name == rule);
        let Some(known) = known else {
            let known: Vec<&str> = all_rules().map(|rule| rule.name).collect();
            let message = format!("there is no rule `{rule}` that can be waived");
            remarks.push(Finding::new(Severity::Error, "language", span, message).help(offer(rule, &known)));
            continue;
        };
        if BINDING.contains(&rule) {
            let message = format!("`{rule}` cannot be waived: the press file would be false");
            remarks.push(
                Finding::new(Severity::Error, "language", span, message)
                    .help("take the waiver out, and mend what it hides"),
            );
            continue;
        }
        let (ended, remark) = end(waiver, &cover.facts.book);
        remarks.extend(remark);
        if ended {
            continue;
        }
        let silenced = silence(cover, waiver, findings);
        // What is printed waives for the printed cover alone, and drift is rehearsed by a command of its own.
        let is_asked = RULES.iter().any(|asked| asked.name == known.name) && known.media.holds(cover.sheet());
        if !silenced && is_asked {
            let message = format!("this waiver of `{rule}` silences nothing");
            remarks.push(Finding::new(Severity::Note, "waiver-unused", span, message).help("take it out"));
        }
    }
    findings.extend(remarks);
}

/// Whether a waiver no longer holds, and what there is to say of its end. The clock is never asked: only what the book states.
fn end(waiver: &Waiver, book: &Book) -> (bool, Option<Finding>) {
    let Some(until) = &waiver.until else { return (false, None) };
    let (rule, say) = (&waiver.rule.value, |message: String, help: &str| {
        Some(Finding::new(Severity::Warning, "waiver-ended", until.span, message).help(help))
    });
    let lacks = |what: &str, help: &str| {
        (false, say(format!("this waiver of `{rule}` has an end, but the book states no {what}"), help))
    };
    let (ended, now) = match (&until.value, book.version, &book.date) {
        (WaiverEnd::Version(_), None, _) => return lacks("version", "write `version 1` in `book`"),
        (WaiverEnd::Date(_), _, None) => return lacks("date", "write `version 1 date=\"2026-04-02\"` in `book`"),
        (WaiverEnd::Version(last), Some(now), _) => (now > *last, format!("version {now}")),
        // Days of the calendar, year first: their order is that of their letters.
        (WaiverEnd::Date(last), _, Some(now)) => (now > last, format!("of {now}")),
    };
    let end = match &until.value {
        WaiverEnd::Version(last) => format!("version {last}"),
        WaiverEnd::Date(last) => last.clone(),
    };
    let message = || format!("this waiver of `{rule}` ended with {end}, and the book is {now}");
    (ended, if ended { say(message(), "take it out, or give it another end") } else { None })
}

/// Turns what the cover waives into notes, and judges no waiver.
pub fn answered(cover: &Cover, findings: &mut [Finding]) {
    for waiver in cover.waivers.iter().filter(|waiver| !end(waiver, &cover.facts.book).0) {
        silence(cover, waiver, findings);
    }
}

/// Whether there was something to silence.
fn silence(cover: &Cover, waiver: &Waiver, findings: &mut [Finding]) -> bool {
    let mut silenced = false;
    for finding in findings.iter_mut().filter(|finding| finding.rule == waiver.rule.value) {
        if waiver.reach.holds(finding.span, finding.place, cover.sheet()) {
            silenced = true;
            finding.severity = Severity::Note;
            finding.message = format!("waived: {}", finding.message);
            finding.help = Some(format!("the reason given: {}", waiver.reason));
        }
    }
    silenced
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{DARKROOM, drawn};
    use crate::check::{check, measured_plates};
    use crate::ground::{Findings, Severity};
    use std::cell::RefCell;

    /// Severity, rule and message of all that the whole check finds.
    fn found(cover: &str) -> Vec<(Severity, &'static str, String)> {
        let (cover, scene) = drawn(cover);
        let findings = RefCell::new(Findings::default());
        check(&findings, &cover, &scene, Some(&measured_plates(&scene, &DARKROOM)), &DARKROOM, None);
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
    fn it_ends_with_a_version_or_a_stated_day() {
        const BOOK: &str =
            "book { title \"Salt and Lanterns\"; author \"A\"; pages 320; isbn \"978-1-83742-615-7\"; VERSION }";
        let said = |version: &str, until: &str| {
            let book = BOOK.replace("VERSION", version);
            let all =
                title(&format!("waive outside-safe until={until} reason=\"it is meant\""), "", &format!("\n{book}"));
            let held = all.iter().filter(|found| found.1 == "outside-safe" && found.0 == Severity::Note).count() == 1;
            let ended = all.iter().find(|found| found.1 == "waiver-ended").map_or("", |found| &found.2);
            (held, ended.to_owned())
        };
        let ended = "this waiver of `outside-safe` ended with";
        let lacks = "this waiver of `outside-safe` has an end, but the book states no";
        assert_eq!(said("version 3", "3"), (true, String::new()));
        assert_eq!(said("version 4", "3"), (false, format!("{ended} version 3, and the book is version 4")));
        assert_eq!(said("version 4 date=\"2027-03-31\"", "\"2027-03-31\""), (true, String::new()));
        let next = (false, format!("{ended} 2027-03-31, and the book is of 2027-04-01"));
        assert_eq!(said("version 4 date=\"2027-04-01\"", "\"2027-03-31\""), next);
        assert_eq!(said("", "3"), (true, format!("{lacks} version")));
        assert_eq!(said("version 3", "\"2027-03-31\""), (true, format!("{lacks} date")));
    }

    #[test]
    fn what_makes_a_false_file_is_not_waived() {
        let all = title("waive missing-glyph reason=\"nobody reads it\"", "", "");
        let message = "`missing-glyph` cannot be waived: the press file would be false".to_owned();
        assert!(all.contains(&(Severity::Error, "language", message)), "{all:?}");
        let known = |name: &&str| super::RULES.iter().any(|rule| rule.name == *name);
        assert!(super::BINDING.iter().all(known));
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
