//! Flaps that reach too far into the book.
//!
//! A flap nearly as wide as its panel runs into the spine when it is folded in, and machines cannot handle it. A flap much
//! wider than half the panel springs open.
//!
//! - wider than the page less 5 mm: error; wider than two thirds of the page: warning. Common practice: 80 to 100 mm, or
//!   half to two thirds of the page.
//!
//! ```kdl
//! format flapped-paperback { trim 129 198; paper caliper=0.12; flap 126; }
//! ```
//!
//! Way out: `flap 85`.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, in_mm, in_percent};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::cover::Binding;
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "flap-too-wide",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[CLEAR, SHARE],
    source: include_str!("flap_too_wide.rs"),
    run,
};

const CLEAR: RuleLimit = in_mm("clear", "flaps narrower than the page by less than this are an error", "5", PRACTICE);
const SHARE: RuleLimit =
    in_percent("share", "flaps over this share of the page are a warning", "66.667", PRACTICE).most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let format = &exam.facts().format;
    if !matches!(format.binding, Binding::FlappedPaperback | Binding::Jacket) {
        return;
    }
    let page = format.trim.0;
    let (most, usual) = (page - findings.limit(&CLEAR), page * findings.limit(&SHARE));
    let (severity, limit) = if format.flap > most {
        (Severity::Error, most)
    } else if format.flap > usual + 0.05 {
        (Severity::Warning, usual)
    } else {
        return;
    };
    let message = format!("flaps of {} on pages of {}; the limit is {}", mm(format.flap), mm(page), mm(limit));
    findings.fact(severity, format.span, message, format!("write `flap {:.0}`", usual.min(90.0).floor()));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn nearly_a_page_and_three_quarters_of_it() {
        assert_eq!(example(&RULE)[0].severity, Severity::Error);
        let found = reported(&RULE, "format jacket { trim 129 198; paper caliper=0.12; flap 100; }");
        assert_eq!(found[0].severity, Severity::Warning);
    }

    #[test]
    fn usual_flaps_and_none_pass() {
        assert_eq!(reported(&RULE, "format jacket { trim 153 234; paper caliper=0.12; flap 90; }"), []);
        assert_eq!(reported(&RULE, "format paperback { trim 80 120; paper caliper=0.12; }"), []);
    }
}
