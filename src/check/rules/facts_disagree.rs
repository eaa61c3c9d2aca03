//! Two places of a cover that state one fact differently.
//!
//! The most expensive mistakes are small: an author's name misspelt on the spine, another book's ISBN, last year's price. They are
//! found when the books are printed, and each means a reprint, or a sticker on every copy.
//!
//! - the spine stated by the printer against the computed one: more than 0.5 mm and 3 % apart, warning; more than 1 mm,
//!   error (common practice). One late section of 16 pages is about 1 mm.
//! - title, subtitle and author wherever words come close to them, yet differ: error where they stand alone, warning in
//!   running text. Capitals, line breaks and signs do not count; one or two letters do, and so do a surname by itself, an
//!   initial, and one word of a title.
//! - an ISBN in the words, or under the bars, in ten or thirteen digits, that is neither the book's nor one that `book`
//!   states by `other-isbn`: error.
//! - a price in the words, its currency before or after it, that is not the stated one of its currency, and a price in a bar code's add-on that is not the
//!   printed one: error. Add-ons that begin with 5 state US dollars and with 6 Canadian ones, in cents; 90000 states none
//!   (public guides of the book trade, partly from memory).
//!
//! ```kdl
//! panel spine {
//!     text author words="Mirela Annand" { head safe 5; size 12 }
//! }
//! ```
//!
//! Way out: say it once, in `book`, and refer to it: `words="{author}"`.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::ground::{Severity, number};
use crate::scene::Media;

mod alike;
mod names;
mod numbers;

pub const RULE: CheckRule = CheckRule {
    name: "facts-disagree",
    severity: Severity::Error,
    media: Media::Both,
    limits: &[NOTABLE, GRAVE],
    source: include_str!("facts_disagree.rs"),
    run,
};

const NOTABLE: RuleLimit =
    in_mm("spine-warning", "a stated spine this far, and 3 %, from the computed one is a warning", "0.5", PRACTICE)
        .most();
const GRAVE: RuleLimit =
    in_mm("spine-error", "a stated spine this far from the computed one is an error", "1", PRACTICE).most();
/// Common practice.
const NOTABLE_SHARE: f64 = 0.03;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    spine(exam, findings);
    let names = names::Names::of(&exam.facts().book);
    for element in &exam.elements {
        if element.runs().next().is_none() {
            continue;
        }
        if element.is(crate::scene::Kind::Text) {
            names.ask(element, findings);
        }
        numbers::ask(exam, element, findings);
    }
}

fn spine(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let stated = exam.facts().format.stated_spine.as_ref().filter(|_| exam.screen().is_none());
    let Some(stated) = stated else { return };
    let computed = exam.cover.spine.computed;
    let apart = (stated.value - computed).abs();
    let (grave, notable) = (findings.limit(&GRAVE), findings.limit(&NOTABLE).max(NOTABLE_SHARE * computed));
    let (severity, limit) = if apart > grave + 1e-6 {
        (Severity::Error, grave)
    } else if apart > notable + 1e-6 {
        (Severity::Warning, notable)
    } else {
        return;
    };
    let message = format!(
        "the stated spine of {} is {} from the computed {}; the limit is {}",
        mm(stated.value),
        mm(apart),
        mm(computed),
        mm(limit)
    );
    let pages = number(f64::from(exam.cover.spine.pages));
    let help =
        format!("check the {pages} pages and the paper's caliper with the printer; `jaconet measure` shows the sum");
    findings.fact(severity, stated.span, message, help);
    findings.measured(apart, if severity == Severity::Error { &GRAVE } else { &NOTABLE });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_name_misspelt_on_the_spine() {
        let said = example(&RULE);
        assert_eq!(said.len(), 1, "{said:?}");
        assert_eq!(said[0].message, "`author` says \"Mirela Annand\"; the book's author is \"Mirela Anand\"");
        assert_eq!(said[0].severity, Severity::Error);
    }

    #[test]
    fn a_stated_spine() {
        // 320 pages of 0.12 mm a leaf and twice 0.3 mm of cover are 19.8 mm.
        let at = |spine: &str| {
            let format = format!(
                "format paperback {{ trim 129 198; paper caliper=0.12; cover-stock caliper=0.3; spine {spine} }}"
            );
            reported(&RULE, &format).first().map(|said| said.severity)
        };
        assert_eq!(at("19.3"), None);
        assert_eq!(at("20.3"), None);
        assert_eq!(at("20.5"), Some(Severity::Warning));
        assert_eq!(at("18.5"), Some(Severity::Error));
    }

    #[test]
    fn facts_said_once_pass() {
        let cover = "panel front {
            text title words=\"{title}\" { left safe; right safe; top safe; case upper }
            text author words=\"{author}\" { left safe; right safe; top safe 60 }
        }
        panel spine { text t words=\"{title}\" { head safe 5; size 12 } }";
        assert_eq!(reported(&RULE, cover), []);
    }
}
