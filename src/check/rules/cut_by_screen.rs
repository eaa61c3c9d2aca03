//! Words or emblems that the edge of a screen cuts.
//!
//! In another ratio words may run wider than the front is, or stand where it has ended.
//!
//! - letters and emblems that reach over an edge by more than 0.4 mm: error. Ours: a round letter may touch it.
//!
//! ```kdl
//! format screen { pixels 1600 2560 }
//! panel front { text strap words="A novel of the sea" { size 30; left 90; width 120; top 40 } }
//! ```
//!
//! Way out: measure from both edges, `left safe; right safe`, and let the size adjust, `size between 20 30`.

use crate::check::exam::{Exam, SheetSide};
use crate::check::limit::{OURS, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "cut-by-screen",
    severity: Severity::Error,
    media: Media::Screens,
    limits: &[TOUCHES],
    source: include_str!("cut_by_screen.rs"),
    run,
};

const TOUCHES: RuleLimit = in_mm("error", "letters and emblems further over an edge are an error", "0.4", OURS).most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let most = findings.limit(&TOUCHES);
    let trim = exam.sheet().trim;
    for element in exam.elements.iter().filter(|element| exam.is_live(element)) {
        let over = SheetSide::ALL.map(|side| (-side.gap(element.bounds, trim), side));
        let worst = over.into_iter().max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((over, side)) = worst.filter(|(over, _)| *over > most) else { continue };
        let message = format!("{} reaches {} over the edge of the screen, {}", element.name(), mm(over), side.word());
        let help = "measure from both edges, `left safe; right safe`, or set it smaller in this edition";
        findings.element(Severity::Error, element, message, help);
        findings.measured(over, &TOUCHES);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn words_wider_than_the_front() {
        assert!(example(&RULE)[0].message.ends_with("over the edge of the screen, right"));
        let inside = "format screen { pixels 1600 2560 }
            panel front { text strap words=\"A novel of the sea\" { size 30; left safe; right safe; top 40 } }";
        assert_eq!(reported(&RULE, inside), []);
    }
}
