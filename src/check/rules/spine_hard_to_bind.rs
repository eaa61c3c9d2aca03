//! A spine thinner than the binder can glue.
//!
//! A perfect-bound book hangs on the glue along its spine. Below a certain thickness the score lines of the cover lie too
//! near to each other to fold cleanly, and the cover tears off.
//!
//! - a spine under 3 mm: warning. Common practice; every binder has a number of its own, which stands in the file that a
//!   cover names by `printer`. Stapled books have no spine.
//!
//! ```kdl
//! format paperback { trim 129 198; spine 2.4 }
//! ```
//!
//! Way out: staple the book, or print on thicker paper.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::cover::Binding;
use crate::ground::Severity;
use crate::scene::{Media, PanelName};

pub const RULE: CheckRule = CheckRule {
    name: "spine-hard-to-bind",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[THINNEST],
    source: include_str!("spine_hard_to_bind.rs"),
    run,
};

const THINNEST: RuleLimit = in_mm("warning", "a thinner spine is a warning", "3", PRACTICE);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let format = &exam.facts().format;
    let has_spine = exam.sheet().panel(PanelName::Spine).is_some() && format.binding != Binding::Stapled;
    let (width, least) = (exam.cover.spine.width, findings.limit(&THINNEST));
    if has_spine && width < least {
        let span = format.stated_spine.as_ref().map_or(format.span, |stated| stated.span);
        let message = format!("a spine of {} is hard to bind; the least is {}", mm(width), mm(least));
        findings.fact(Severity::Warning, span, message, "staple the book, or print on thicker paper");
        findings.measured(width, &THINNEST);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn just_within_and_just_beyond() {
        assert_eq!(example(&RULE).len(), 1);
        let spine = |mm: &str| format!("format paperback {{ trim 129 198; spine {mm} }}");
        assert_eq!(reported(&RULE, &spine("3")), []);
        assert_eq!(reported(&RULE, &spine("2.9")).len(), 1);
        assert_eq!(reported(&RULE, &(spine("3.9") + "\nlimit spine-hard-to-bind warning=4")).len(), 1);
        assert_eq!(reported(&RULE, "book { title \"T\"; pages 32 }\nformat stapled { trim 129 198 }"), []);
    }
}
