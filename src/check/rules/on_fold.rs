//! Words or emblems over a fold, in the joint of a case, or in the hinge beside a spine.
//!
//! Binding drifts by a millimetre or more, and a fold breaks the film of ink and the lamination on it. Words that lie
//! across are bent, worn off first, and creep onto the wrong panel.
//!
//! - words across a fold: error; in a `wrap`, where it may be intended, warning. An emblem across a fold: warning.
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
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::cover::Binding;
use crate::ground::Severity;
use crate::scene::{Fold, FoldKind, Kind, Media, PanelName, Surface};

pub const RULE: CheckRule = CheckRule {
    name: "on-fold",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[HINGE, FLAP],
    source: include_str!("on_fold.rs"),
    run,
};

const HINGE: RuleLimit = in_mm("hinge", "words nearer to a fold of the spine are a warning", "5", PRACTICE);
const FLAP: RuleLimit = in_mm("flap", "words nearer to another fold or score are a warning", "3", PRACTICE);
/// What may lie over a line and still count as ending at it.
const SLACK: f64 = 0.25;
/// As for guides: a serif leans out.
const OVERSHOOT: f64 = 0.4;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in &exam.elements {
        let words = element.is(Kind::Text) && element.origin.panel != Surface::SPINE;
        let emblem = element.is(Kind::Picture) && element.origin.panel != Surface::Wrap && exam.is_live(element);
        if words || emblem {
            ask(exam, element, words, findings);
        }
    }
}

fn ask(exam: &Exam<'_>, element: &VisibleElement<'_>, words: bool, findings: &mut RuleFindings) {
    let body = element.body();
    let (left, right) = (body.x0, body.x1);
    let crossed = exam.sheet().folds.iter().filter(|fold| left < fold.x - SLACK && right > fold.x + SLACK);
    let judged = crossed.map(|fold| {
        let meant = element.origin.panel == Surface::Wrap || fold.kind == FoldKind::Score;
        (if words && !meant { Severity::Error } else { Severity::Warning }, (fold.x - left).min(right - fold.x), fold)
    });
    // One finding for the worst of them: an error before a warning, then the one it reaches furthest over.
    if let Some((severity, over, fold)) = judged.max_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))) {
        let name = if fold.kind == FoldKind::Score { "a score" } else { "a fold" };
        let message = format!("{} lies across {name}, {} over it", element.name(), mm(over));
        return findings.element(severity, element, message, format!("move it {} away, or make it smaller", mm(over)));
    }
    if !words {
        return;
    }
    let inside = exam.sheet().panel_at(element.bounds.center()).map(|panel| panel.name);
    if inside.is_some_and(PanelName::is_joint) {
        let message = format!("{} stands in the joint, which is pressed into a groove", element.name());
        return findings.element(Severity::Warning, element, message, "move it onto the board");
    }
    if inside == Some(PanelName::Spine) {
        return;
    }
    let gap = |fold: &Fold| if left >= fold.x - SLACK { left - fold.x } else { fold.x - right };
    let limits = (findings.limit(&HINGE), findings.limit(&FLAP));
    let zones = exam.sheet().folds.iter().map(|fold| (gap(fold), zone(exam, fold, inside, limits)));
    let tightest = zones.min_by(|a, b| (a.0 - a.1.0).total_cmp(&(b.0 - b.1.0)));
    let Some((gap, (need, name))) = tightest else { return };
    if gap < need - OVERSHOOT {
        let message = format!("{} stands {} from {name}; it needs {}", element.name(), mm(gap.max(0.0)), mm(need));
        findings.element(Severity::Warning, element, message, format!("move it {} away", mm(need - gap)));
    }
}

/// How far words on a panel keep from a fold, and what to call it.
fn zone(exam: &Exam<'_>, fold: &Fold, panel: Option<PanelName>, (hinge, flap): (f64, f64)) -> (f64, &'static str) {
    let format = &exam.facts().format;
    if fold.kind == FoldKind::Score {
        return (flap, "the score of the hinge");
    }
    if format.binding == Binding::Case {
        return (flap, "the joint");
    }
    let spine = exam.sheet().panel(PanelName::Spine).map(|panel| panel.rect);
    let beside = spine.is_some_and(|spine| (spine.x0 - fold.x).abs() < SLACK || (spine.x1 - fold.x).abs() < SLACK);
    if beside && !panel.is_some_and(PanelName::is_flap) {
        (hinge.max(format.hinge), "the spine's fold, in the hinge")
    } else {
        (flap, "a fold")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn severities(cover: &str) -> Vec<Severity> {
        reported(&RULE, cover).iter().map(|found| found.severity).collect()
    }

    #[test]
    fn a_title_that_creeps_onto_the_spine() {
        let found = example(&RULE);
        assert_eq!(found.iter().map(|found| found.severity).collect::<Vec<_>>(), [Severity::Error], "{found:?}");
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

    // 4 mm from the spine's fold, which asks for 5, and 3.2 mm from the flap's, which asks for 3.
    #[test]
    fn a_fold_that_is_near_does_not_hide_one_that_is_too_near() {
        let cover = "format flapped-paperback { trim 30 198; paper caliper=0.12; flap 20; hinge 0 }
panel front { text a words=\"HHHHH\" { left fold 4; right fold 2.9; top 40; size 14; align justify } }";
        let found = reported(&RULE, cover);
        assert!(found.iter().any(|found| found.message.contains("in the hinge; it needs 5 mm")), "{found:?}");
    }

    // The opening quotation mark stands out of the frame; the words begin where they should.
    #[test]
    fn a_hanging_quotation_mark_passes() {
        let cover = |words: &str| {
            format!("panel front {{ text a words={words:?} {{ left fold 5; width 60; top 40; size 40; align left }} }}")
        };
        assert_eq!(severities(&cover("“Hut”")), []);
        assert_eq!(severities(&cover("Hut")), []);
    }

    // A score is crossed by more than the fold is, but the fold is the graver.
    #[test]
    fn of_two_folds_the_graver_is_reported() {
        let cover = "format paperback { trim 129 198; paper caliper=0.12; hinge 6 }
panel front { text a words=\"Hut\" { left fold -3; top 40; width 90; size 60 } }";
        assert_eq!(severities(cover), [Severity::Error]);
    }

    #[test]
    fn art_may_cross_and_words_keep_away() {
        let cover = "wrap { image art file=\"art/small.jpg\" { left bleed; right bleed; top bleed; bottom bleed; fit filling } }
            panel front { text title words=\"{title}\" { left safe; right safe; top safe 20 } }
            panel spine { text a words=\"{title}\" { head safe 5; size 12 } }";
        assert_eq!(severities(cover), []);
    }
}
