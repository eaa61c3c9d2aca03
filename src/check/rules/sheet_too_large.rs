//! A cover too large for the press.
//!
//! Bleed and printer's marks included, the flat cover has to fit on the printer's sheet. One that does not is noticed when
//! the plates are made, and costs another press, or another trim.
//!
//! - the sheet with bleed and marks, in either direction, larger than the largest sheet: error.
//!
//! The usual limit is a sheet of 720 × 1020 mm, a common size of press (from memory). Your printer's own stands in the file
//! that a cover names by `printer`.
//!
//! ```kdl
//! format jacket { trim 300 400; flap 250; spine 30; board }
//! ```
//!
//! Way out: narrower flaps, a smaller trim; or ask the printer for a larger press.

use crate::check::exam::Exam;
use crate::check::limit::{RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "sheet-too-large",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[WIDTH, HEIGHT],
    source: include_str!("sheet_too_large.rs"),
    run,
};

const WIDTH: RuleLimit =
    in_mm("width", "the longer side of the largest sheet", "1020", "a common press, from memory").most();
const HEIGHT: RuleLimit = in_mm("height", "its shorter side", "720", "a common press, from memory").most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let bleed = exam.sheet().bleed;
    let (long, short) = (bleed.width().max(bleed.height()), bleed.width().min(bleed.height()));
    let (width, height) = (findings.limit(&WIDTH), findings.limit(&HEIGHT));
    let (width, height) = (width.max(height), width.min(height));
    let (value, limit) = if long > width {
        (long, WIDTH)
    } else if short > height {
        (short, HEIGHT)
    } else {
        return;
    };
    let message = format!(
        "the sheet is {} × {} with its bleed; the printer's largest is {} × {}",
        mm(bleed.width()),
        mm(bleed.height()),
        mm(width),
        mm(height)
    );
    let help = "make flaps or trim smaller, or ask the printer for a larger press";
    findings.fact(Severity::Error, exam.facts().format.span, message, help);
    findings.measured(value, &limit);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_sheet_just_within_and_just_beyond() {
        assert_eq!(example(&RULE).len(), 1);
        // Two pages of 129 mm, a spine of 20 mm and twice 3 mm of bleed: 284 mm; 198 mm and twice 3 mm: 204 mm.
        let cover =
            |limit: &str| format!("format paperback {{ trim 129 198; spine 20 }}\nlimit sheet-too-large {limit}");
        assert_eq!(reported(&RULE, &cover("width=284 height=204")), []);
        for beyond in ["width=283.9 height=204", "width=284 height=203.9"] {
            let found = reported(&RULE, &cover(beyond));
            assert_eq!(found.len(), 1, "{beyond}");
            assert!(found[0].message.contains("284 mm × 204 mm"), "{}", found[0].message);
            let measured = found[0].subject.measured.as_ref().expect("it is measured");
            assert!(measured.set.is_some() && measured.value - measured.limit < 0.11, "{measured:?}");
        }
        // A sheet may be turned.
        assert_eq!(reported(&RULE, &cover("width=204 height=284")), []);
    }
}
