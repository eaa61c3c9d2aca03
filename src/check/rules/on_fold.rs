//! Words or emblems over a fold, in the joint of a case, or in the hinge beside a spine.
//!
//! Binding drifts by a millimetre or more, and a fold breaks the film of ink and the lamination on it. Words that lie
//! across are bent, worn off first, and creep onto the wrong panel.
//!
//! - words across a fold: error; in a `wrap`, where that may be meant, warning. An emblem across a fold: warning.
//! - words nearer than 5 mm to the spine's fold on front or back, or within the stated `hinge`, where the cover is scored
//!   and bends when the book is opened: warning. On a case: in the joint, or nearer than 3 mm to it.
//! - words nearer than 3 mm to the fold of a flap or, on a stapled book, to the middle: warning.
//!
//! All common practice: hinge 5 to 8 mm, folds of flaps 3 to 5 mm, case joint and 3 mm. The spine's own words are
//! `spine-clearance`, bar codes `bar-code-place`.
//!
//! ```kdl
//! panel front {
//!     text title words="{title}" { left fold -6; right safe; top safe 20; size 40; }
//! }
//! ```
//!
//! Way out: move the words away from the fold: `left safe`, or `left fold 8`.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::cover::Binding;
use crate::ground::Severity;
use crate::scene::{Fold, FoldKind, Kind};

pub const RULE: CheckRule =
    CheckRule { name: "on-fold", severity: Severity::Error, source: include_str!("on_fold.rs"), run };

/// Common practice.
const HINGE: f64 = 5.0;
const FLAP: f64 = 3.0;
/// What may lie over a line and still count as ending at it.
const SLACK: f64 = 0.25;
/// As for guides: a serif leans out.
const OVERSHOOT: f64 = 0.4;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in &exam.elements {
        let words = element.is(Kind::Text) && element.origin.panel != "spine";
        let emblem = element.is(Kind::Picture) && element.origin.panel != "wrap" && exam.is_live(element);
        if words || emblem {
            ask(exam, element, words, findings);
        }
    }
}

fn ask(exam: &Exam<'_>, element: &VisibleElement<'_>, words: bool, findings: &mut RuleFindings) {
    let (left, right) = (element.bounds.x0, element.bounds.x1);
    let crossed = exam.sheet().folds.iter().find(|fold| left < fold.x - SLACK && right > fold.x + SLACK);
    if let Some(fold) = crossed {
        let over = (fold.x - left).min(right - fold.x);
        let name = if fold.kind == FoldKind::Score { "a score" } else { "a fold" };
        let message = format!("{} lies across {name}, {} over it", element.name(), mm(over));
        let meant = element.origin.panel == "wrap" || fold.kind == FoldKind::Score;
        let severity = if words && !meant { Severity::Error } else { Severity::Warning };
        return findings.element(severity, element, message, format!("move it {} away, or make it smaller", mm(over)));
    }
    if !words {
        return;
    }
    let inside = exam.sheet().panel_at(element.bounds.center()).map_or("", |panel| panel.name);
    if inside.ends_with("joint") {
        let message = format!("{} stands in the joint, which is pressed into a groove", element.name());
        return findings.element(Severity::Warning, element, message, "move it onto the board");
    }
    if inside == "spine" {
        return;
    }
    let gap = |fold: &Fold| if left >= fold.x - SLACK { left - fold.x } else { fold.x - right };
    let nearest = exam.sheet().folds.iter().min_by(|a, b| gap(a).total_cmp(&gap(b)));
    let Some(fold) = nearest else { return };
    let (need, name) = zone(exam, fold, inside);
    if gap(fold) < need - OVERSHOOT {
        let message =
            format!("{} stands {} from {name}; it needs {}", element.name(), mm(gap(fold).max(0.0)), mm(need));
        findings.element(Severity::Warning, element, message, format!("move it {} away", mm(need - gap(fold))));
    }
}

/// How far words on a panel keep from a fold, and what to call it.
fn zone(exam: &Exam<'_>, fold: &Fold, panel: &str) -> (f64, &'static str) {
    let format = &exam.facts().format;
    if fold.kind == FoldKind::Score {
        return (FLAP, "the score of the hinge");
    }
    if format.binding == Binding::Case {
        return (FLAP, "the joint");
    }
    let spine = exam.sheet().panel("spine").map(|panel| panel.rect);
    let beside = spine.is_some_and(|spine| (spine.x0 - fold.x).abs() < SLACK || (spine.x1 - fold.x).abs() < SLACK);
    if beside && !panel.ends_with("flap") {
        (HINGE.max(format.hinge), "the spine's fold, in the hinge")
    } else {
        (FLAP, "a fold")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, told};

    fn severities(cover: &str) -> Vec<Severity> {
        told(&RULE, cover).iter().map(|said| said.severity).collect()
    }

    #[test]
    fn a_title_that_creeps_onto_the_spine() {
        let said = example(&RULE);
        assert_eq!(said.iter().map(|said| said.severity).collect::<Vec<_>>(), [Severity::Error], "{said:?}");
    }

    #[test]
    fn words_in_the_hinge() {
        let words = |left: &str, hinge: &str| {
            let format = format!("format paperback {{ trim 129 198; paper caliper=0.12; hinge {hinge} }}\n");
            severities(&(format + "panel front { text a words=\"Hut\" { left fold " + left + "; top 40; width 60 } }"))
        };
        assert_eq!(words("2", "0"), [Severity::Warning]);
        assert_eq!(words("5", "0"), []);
        assert_eq!(words("5", "7"), [Severity::Warning]);
        assert_eq!(words("11", "7"), []);
    }

    #[test]
    fn art_may_cross_and_words_keep_away() {
        let cover = "wrap { image art file=\"art/small.jpg\" { left bleed; right bleed; top bleed; bottom bleed; fit filling } }
            panel front { text title words=\"{title}\" { left safe; right safe; top safe 20 } }
            panel spine { text a words=\"{title}\" { head safe 5; size 12 } }";
        assert_eq!(severities(cover), []);
    }
}
