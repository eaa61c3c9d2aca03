//! Small black type that knocks out of the colour under it.
//!
//! Solid black covers whatever is under it. If the colour is left out below small black letters, every misregister
//! leaves a white edge beside each stroke.
//!
//! - solid black type below 24 pt on a colour, not overprinting: warning. An entry of the Ghent Workgroup's 2015
//!   specification (its headings); 24 pt is common practice. Black text overprints unless the cover says otherwise.
//!
//! ```kdl
//! panel back {
//!     band sky { swatch black percent=30; left bleed; right fold; top bleed; bottom bleed }
//!     text blurb words="A novel of the sea." { size 11; swatch black overprint=#false; left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: take `overprint=#false` away.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, in_pt};
use crate::check::rule::{CheckRule, RuleFindings, pt};
use crate::check::under::Ground;
use crate::ground::{MM_PER_PT, Paint, Severity};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "black-not-overprinting",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[SMALL],
    source: include_str!("black_not_overprinting.rs"),
    run,
};

const SMALL: RuleLimit = in_pt("warning", "black letters under this size overprint", "24", PRACTICE);
/// A ground with less ink than this is paper.
const COLOUR: f64 = 0.05;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let small = findings.limit(&SMALL);
    for element in exam.of(Kind::Text) {
        let knocks = element.runs().find(|(run, shown)| {
            let Paint::Ink(ink) = &run.paint else { return false };
            if ink.overprint || !ink.is_black() || ink.total() < 1.0 || run.size / MM_PER_PT >= small {
                return false;
            }
            let ground = exam.ground(element.range.start, shown.bounds);
            match exam.ground_inks(&ground, shown.bounds) {
                Some(inks) => inks.iter().sum::<f64>() > COLOUR,
                None => !matches!(ground, Ground::Paper),
            }
        });
        if let Some((run, _)) = knocks {
            let size = run.size / MM_PER_PT;
            let message = format!(
                "{} is black at {} and knocks out; below {} black overprints",
                element.name(),
                pt(size),
                pt(small)
            );
            findings.element(Severity::Warning, element, message, "take `overprint=#false` away");
            findings.measured(size, &SMALL);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn reported_to_knock_out() {
        assert_eq!(example(&RULE).len(), 1);
    }

    #[test]
    fn on_paper_or_by_itself_it_passes() {
        let paper = "panel back { text a words=\"Sea\" { size 11; swatch black overprint=#false; left safe; right safe; top safe } }";
        assert_eq!(reported(&RULE, paper), []);
        let plain = "panel back {
            band sky { swatch black percent=30; left bleed; right fold; top bleed; bottom bleed }
            text a words=\"Sea\" { size 11; left safe; right safe; top safe }
        }";
        assert_eq!(reported(&RULE, plain), []);
    }
}
