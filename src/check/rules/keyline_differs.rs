//! The printer's keyline has another trim, bleed or fold than the sheet.
//!
//! Printers send a PDF to design on, made for the paper and the binding that they will use. If its spine is wider than ours,
//! the title leaves the spine and the front begins on it. The file that the cover names by `keyline` is measured:
//!
//! - a trim of another width or height, by more than 0.25 mm (ours): error.
//! - more bleed than the sheet has: error.
//! - a fold drawn within 12 mm of one of ours, and in another place: error.
//! - no line near a fold of ours: warning; near a hinge, note.
//!
//! A line counts as a fold when it is straight and runs along at least half the height. What the lines look like and what is
//! written beside them is not read.
//!
//! ```kdl
//! keyline "printers/keyline.pdf"
//! format paperback { trim 129 198; spine 21 }
//! ```
//!
//! Way out: state the printer's own spine, `spine 19.8`, and its trim; or send the printer the final page count and paper, and
//! ask for a new file.

use crate::check::exam::Exam;
use crate::check::keyline::{KeylineDifference, SAME, against_keyline};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "keyline-differs",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[SAME],
    source: include_str!("keyline_differs.rs"),
    run,
};

const CUT_SHORT: &str = "ask the printer for a plain drawing of trim and folds";

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let Some(keyline) = &exam.facts().keyline else { return };
    for difference in against_keyline(exam.sheet(), keyline, findings.limit(&SAME)) {
        let KeylineDifference { difference, help, place, off } = difference;
        findings.place(difference.severity, keyline.span, place, difference.message, help);
        if off > 0.0 && difference.severity == Severity::Error {
            findings.measured(off, &SAME);
        }
    }
    if keyline.page.is_cut_short {
        let message = "the keyline holds more than is read, so lines may be missing";
        findings.fact(Severity::Note, keyline.span, message, CUT_SHORT);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // The file is drawn for 277.8 × 198 mm with folds at 129 and 148.8 mm.
    #[test]
    fn another_spine_is_measured() {
        let found = example(&RULE);
        let messages: Vec<&str> = found.iter().map(|finding| finding.message.as_str()).collect();
        assert_eq!(
            messages,
            [
                "the keyline's trim is 277.8 mm wide; ours is 279 mm",
                "the keyline folds 148.8 mm from the left of the trim; ours folds at 150 mm"
            ]
        );
        assert_eq!(found[1].subject.measured.as_ref().map(|measured| measured.value), Some(1.2));
    }

    #[test]
    fn the_same_spine_passes_and_so_does_a_wider_limit() {
        assert_eq!(reported(&RULE, "keyline \"printers/keyline.pdf\""), []);
        assert_eq!(
            reported(&RULE, "panel front { band a { swatch black; left 20; width 20; top 20; height 20 } }"),
            []
        );
        let wide = "keyline \"printers/keyline.pdf\"\nlimit keyline-differs same=1.5\n";
        assert_eq!(reported(&RULE, &format!("{wide}format paperback {{ trim 129 198; spine 21 }}")), []);
    }

    #[test]
    fn more_bleed_is_asked_for() {
        let format = "format paperback { trim 129 198; spine 19.8; bleed 2 }";
        let found = reported(&RULE, &format!("keyline \"printers/keyline.pdf\"\n{format}"));
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].message, "the keyline asks for a bleed of 3 mm; ours is 2 mm");
    }
}
