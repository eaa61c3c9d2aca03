//! Words on the spine too near to its folds.
//!
//! The spine's place on the book varies by up to 1.5 mm, depending on glue, paper and folding. Letters close to the fold
//! end up on the front or the back.
//!
//! - nearer than 1.5 mm (1/16 in) to a fold, by the ink of the letters: error; on spines under 10 mm, 1 mm. Common practice.
//!
//! ```kdl
//! panel spine {
//!     text spine-title words="{title}" { head safe 5; across fold 0.1; size 60 }
//! }
//! ```
//!
//! Way out: a smaller size, or `across safe`, which centres words by their capitals: letters that reach below the line may need
//! a smaller size all the same. Where even the smallest size is too wide, use fewer words, such as `{title.short}`.

use crate::check::exam::{Exam, SheetSide};
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::cover::{THIN_SPINE, spine_clearance};
use crate::ground::Severity;
use crate::scene::{Media, PanelName};

pub const RULE: CheckRule = CheckRule {
    name: "spine-clearance",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[CLEAR, THIN],
    source: include_str!("spine_clearance.rs"),
    run,
};

const CLEAR: RuleLimit = in_mm("error", "words nearer to a fold of the spine are an error", "1.5", PRACTICE);
const THIN: RuleLimit = in_mm("thin", "the same on a spine under 10 mm", "1", PRACTICE);
/// Below what a rule of thumb can mean.
const SLACK: f64 = 0.05;

const HELP: &str = "say `across safe`, or make it smaller: words are centred by their capitals, and letters that reach below \
                    them come nearer to one fold";

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let Some(spine) = exam.sheet().panel(PanelName::Spine).map(|panel| panel.rect) else { return };
    let limit = if spine.width() < THIN_SPINE { THIN } else { CLEAR };
    let need = findings.limit(&limit);
    for element in exam.spine_words() {
        let (left, right) = (SheetSide::Left.gap(element.bounds, spine), SheetSide::Right.gap(element.bounds, spine));
        let gap = left.min(right);
        if gap >= need - SLACK {
            continue;
        }
        let name = element.name();
        let found =
            if gap < 0.0 { format!("{} over the fold", mm(-gap)) } else { format!("{} from the fold", mm(gap)) };
        let message =
            format!("{name} stands {found} of the spine, which is {} wide; it needs {}", mm(spine.width()), mm(need));
        let help = if left + right >= 2.0 * need {
            // The safe area of a spine keeps the usual distance.
            if need > spine_clearance(spine.width()) { "centre it, or make it smaller" } else { HELP }
        } else {
            "make it smaller or shorter, such as `{title.short}`, or let the size adjust: `size between 8 20`"
        };
        findings.element(Severity::Error, element, message, help);
        findings.measured(gap, &limit);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn letters_as_high_as_the_spine() {
        assert_eq!(example(&RULE).len(), 1);
    }

    #[test]
    fn a_sensible_size_passes() {
        assert_eq!(reported(&RULE, "panel spine { text spine-title words=\"{title}\" { head safe 5; size 18 } }"), []);
    }

    // 5.4 mm of spine: 9 pt stand, 1 mm from each fold; the same size would not on 4 mm of room with 1.5 mm each.
    #[test]
    fn thin_spines_are_allowed_a_millimetre() {
        let cover = |size: &str| {
            let format = "format paperback { trim 129 198; paper caliper=0.1; cover-stock caliper=0.2; spine 7 }\n";
            reported(&RULE, &format!("{format}panel spine {{ text a words=\"HELL\" {{ head safe 5; size {size} }} }}"))
                .len()
        };
        assert_eq!(cover("18"), 0);
        assert_eq!(cover("24"), 1);
    }
}
