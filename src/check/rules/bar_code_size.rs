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
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::ground::{Severity, number};
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "bar-code-size",
    severity: Severity::Error,
    media: Media::Print,
    source: include_str!("bar_code_size.rs"),
    run,
};

const NOMINAL: f64 = 0.33;
const NARROWEST: f64 = 0.264;
const NARROW: f64 = 0.9 * NOMINAL;
const WIDEST: f64 = 0.66;
const LOW: f64 = 18.28;
const LOWEST: f64 = 13.0;
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
    let (severity, limit, word) = if module < NARROWEST - SLACK {
        (Severity::Error, NARROWEST, "least")
    } else if module < NARROW - SLACK {
        (Severity::Warning, NARROW, "least that is sure to scan")
    } else if module > WIDEST + SLACK {
        (Severity::Error, WIDEST, "most")
    } else {
        return;
    };
    let message = format!(
        "the narrowest bar of {} is {} mm, {:.0} % of nominal; the {word} is {} mm",
        element.name(),
        number(module),
        module / NOMINAL * 100.0,
        number(limit)
    );
    findings.element(severity, element, message, "write `scale 100`, or at least 90");
}

fn height(element: &VisibleElement<'_>, height: f64, findings: &mut RuleFindings) {
    let (severity, limit) = if height < LOWEST - SLACK {
        (Severity::Error, LOWEST)
    } else if height < LOW - 0.01 {
        (Severity::Warning, LOW)
    } else {
        return;
    };
    let message = format!("the bars of {} are {} high; the least is {}", element.name(), mm(height), mm(limit));
    findings.element(severity, element, message, "give the bars their full height");
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
