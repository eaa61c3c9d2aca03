//! A front for screens with nothing on it.
//!
//! Only the front is delivered, so what stands on the other panels does not show.
//!
//! - no element on the front, and none of the wrap lies there: error.
//!
//! ```kdl
//! format screen { pixels 1600 2560 }
//! panel back { text blurb words="A novel of the sea" { left safe; right safe; top 40 } }
//! ```
//!
//! Way out: `text title words="{title}" { left safe; right safe; top 40 }` in `panel front`.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "empty-front",
    severity: Severity::Error,
    media: Media::Screens,
    limits: &[],
    source: include_str!("empty_front.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    if exam.elements.is_empty() {
        let help = "write `text title words=\"{title}\" { left safe; right safe; top 40 }` in `panel front`";
        let message = "a screen shows the front, and this cover has nothing on it";
        findings.fact(Severity::Error, exam.facts().format.span, message, help);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_front_shows_something() {
        assert_eq!(example(&RULE).len(), 1);
        let cover = "format screen { pixels 1600 2560 }\nwrap { ground sea { swatch black } }";
        assert_eq!(reported(&RULE, cover), []);
    }
}
