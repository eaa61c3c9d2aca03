//! A bar code too small or too large for a scanner.
//!
//! Scanners at the till resolve a narrowest bar of a quarter of a millimetre. A code that does not scan is typed in by hand,
//! and a bookseller may send the whole delivery back.
//!
//! Measured on the sheet:
//!
//! - width of the narrowest bar, X: under 0.264 mm (80 %) or over 0.66 mm (200 %): error; under 0.297 mm (90 %):
//!   warning. The nominal is 0.33 mm. Limits: a GS1 size guide; 90 % is common practice of offset printing.
//! - height of the bars: under 18.28 mm (the least of the same guide): warning; under 13 mm: error (common practice).
//!
//! ```kdl
//! panel back {
//!     barcode barcode { right safe; bottom safe; scale 85 }
//! }
//! ```
//!
//! Way out: `scale 100`, or at least 90, and full height.

use crate::check::bars::Bars;
use crate::check::exam::Exam;
use crate::check::limit::{GS1, PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::ground::{Severity, number};
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "bar-code-size",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[NARROWEST, NARROW, WIDEST, LOW, LOWEST],
    source: include_str!("bar_code_size.rs"),
    run,
};

const NOMINAL: f64 = 0.33;
const NARROWEST: RuleLimit = in_mm("error", "a narrowest bar under this width is an error", "0.264", GS1);
const NARROW: RuleLimit = in_mm("warning", "a narrowest bar under this width is a warning", "0.297", PRACTICE);
const WIDEST: RuleLimit = in_mm("most", "a narrowest bar over this width is an error", "0.66", GS1).most();
const LOW: RuleLimit = in_mm("height-warning", "lower bars are a warning", "18.28", GS1);
const LOWEST: RuleLimit = in_mm("height-error", "lower bars are an error", "13", PRACTICE);
const SLACK: f64 = 5e-4;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in &exam.elements {
        if let Some(bars) = Bars::of(element) {
            width(element, bars.module, findings);
            height(element, bars.height, findings);
        }
    }
}

fn width(element: &VisibleElement<'_>, module: f64, findings: &mut RuleFindings) {
    let under = |limit: &RuleLimit| module < findings.limit(limit) - SLACK;
    let (severity, limit, word) = if under(&NARROWEST) {
        (Severity::Error, NARROWEST, "least")
    } else if under(&NARROW) {
        (Severity::Warning, NARROW, "least that is sure to scan")
    } else if module > findings.limit(&WIDEST) + SLACK {
        (Severity::Error, WIDEST, "most")
    } else {
        return;
    };
    let message = format!(
        "the narrowest bar of {} is {} mm, {:.0} % of nominal; the {word} is {} mm",
        element.name(),
        number(module),
        module / NOMINAL * 100.0,
        number(findings.limit(&limit))
    );
    findings.element(severity, element, message, "write `scale 100`, or at least 90");
    findings.measured(module, &limit);
}

fn height(element: &VisibleElement<'_>, height: f64, findings: &mut RuleFindings) {
    let (severity, limit) = if height < findings.limit(&LOWEST) - SLACK {
        (Severity::Error, LOWEST)
    } else if height < findings.limit(&LOW) - 0.01 {
        (Severity::Warning, LOW)
    } else {
        return;
    };
    let least = mm(findings.limit(&limit));
    let message = format!("the bars of {} are {} high; the least is {least}", element.name(), mm(height));
    findings.element(severity, element, message, "give the bars their full height");
    findings.measured(height, &limit);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::bars::trial::SampleBars;
    use crate::check::testing::reported_with;

    fn found(module: f64, height: f64) -> Vec<Severity> {
        let trial = SampleBars { module, height, ..SampleBars::default() };
        reported_with(&RULE, "", trial.items()).iter().map(|found| found.severity).collect()
    }

    #[test]
    fn too_small_and_too_large() {
        assert_eq!(found(0.25, 22.85), [Severity::Error]);
        assert_eq!(found(0.264, 18.28), [Severity::Warning]);
        assert_eq!(found(0.7, 40.0), [Severity::Error]);
        assert_eq!(found(0.33, 15.0), [Severity::Warning]);
        assert_eq!(found(0.33, 10.0), [Severity::Error]);
    }

    #[test]
    fn nominal_and_ninety_percent_pass() {
        assert_eq!(found(0.33, 22.85), []);
        assert_eq!(found(0.303, 20.6), []);
    }
}
