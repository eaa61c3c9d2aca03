//! Words on a spine too thin to carry them.
//!
//! A spine drifts by a millimetre or more when the book is bound. On a thin one that moves the words onto front or back.
//!
//! - words on a spine under 6 mm (about 1/4 in): warning; under 4 mm: error. Common practice; in pages, the threshold
//!   lies between 80 and 130, by the paper. A stapled book has no spine, and its words fail already when they are read.
//!
//! ```kdl
//! format paperback { trim 129 198; paper grammage=80 bulk=1.25; cover-stock caliper=0.3; spine 5; }
//! panel spine {
//!     text spine-title words="{title}" { head safe 5; size 6 }
//! }
//! ```
//!
//! Way out: take the words off the spine, or print on thicker paper.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "spine-too-thin",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[USUAL, LEAST],
    source: include_str!("spine_too_thin.rs"),
    run,
};

const USUAL: RuleLimit = in_mm("warning", "words on a spine thinner than this are a warning", "6", PRACTICE);
const LEAST: RuleLimit = in_mm("error", "words on a spine thinner than this are an error", "4", PRACTICE);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let width = exam.cover.spine.width;
    let (severity, limit) = if width < findings.limit(&LEAST) {
        (Severity::Error, LEAST)
    } else if width < findings.limit(&USUAL) {
        (Severity::Warning, USUAL)
    } else {
        return;
    };
    let need = findings.limit(&limit);
    for element in exam.spine_words() {
        let message = format!("{} stands on a spine of {}; words need {}", element.name(), mm(width), mm(need));
        findings.element(severity, element, message, "take the words off the spine, or choose a thicker paper");
        findings.measured(width, &limit);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn five_and_three_millimetres() {
        assert_eq!(example(&RULE)[0].severity, Severity::Warning);
        let thin = "format paperback { trim 129 198; paper caliper=0.1; spine 3.5; }
panel spine { text a words=\"{title}\" { head safe 5; size 3 } }";
        assert_eq!(reported(&RULE, thin)[0].severity, Severity::Error);
    }

    #[test]
    fn a_thin_spine_without_words_and_a_thick_one_pass() {
        assert_eq!(reported(&RULE, "format paperback { trim 129 198; paper caliper=0.1; spine 3; }"), []);
        assert_eq!(reported(&RULE, "panel spine { text a words=\"{title}\" { head safe 5; size 12 } }"), []);
    }
}
