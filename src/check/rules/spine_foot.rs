//! A title at the foot of the spine, where libraries put their label.
//!
//! Libraries stick the shelf mark on the lowest three centimetres of the spine, over whatever is printed there.
//!
//! - words on the spine that say the title and reach into the lowest 30 mm: note. ISO 6357, as its published summary has it.
//!   Author, publisher and mark often stand there, and pass.
//!
//! ```kdl
//! panel spine { text spine-title words="{title}" { foot 12; size 12 } }
//! ```
//!
//! Way out: place it from the head, or `foot 30`.

use crate::check::exam::Exam;
use crate::check::limit::{RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::ground::Severity;
use crate::scene::{Media, PanelName};

pub const RULE: CheckRule = CheckRule {
    name: "spine-foot",
    severity: Severity::Note,
    media: Media::Print,
    limits: &[LABEL],
    source: include_str!("spine_foot.rs"),
    run,
};

const LABEL: RuleLimit = in_mm(
    "note",
    "a title nearer to the foot of the spine is a note",
    "30",
    "ISO 6357, as its published summary has it",
);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let label = findings.limit(&LABEL);
    let Some(spine) = exam.sheet().panel(PanelName::Spine).map(|panel| panel.rect) else { return };
    for element in exam.spine_words().filter(|element| exam.says_any(element, &["title", "title.short"])) {
        let above = spine.y1 - element.body().y1;
        if above < label - 0.05 {
            let message = format!(
                "{} ends {} above the foot of the spine; a library's label covers the lowest {}",
                element.name(),
                mm(above),
                mm(label)
            );
            findings.element(Severity::Note, element, message, format!("move it {} up", mm(label - above)));
            findings.measured(above, &LABEL);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn the_title_under_a_label() {
        assert_eq!(example(&RULE).len(), 1);
        let at = |foot: f64, words: &str| {
            reported(&RULE, &format!("panel spine {{ text a words={words:?} {{ foot {foot}; size 12 }} }}")).len()
        };
        assert_eq!((at(29.0, "{title}"), at(31.0, "{title}"), at(12.0, "{author}")), (1, 0, 0));
    }
}
