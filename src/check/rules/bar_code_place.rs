//! A bar code where a scanner, or a bookseller, does not find it.
//!
//! A code at the edge is cut or bent, a code over a fold is curved, and a crooked code takes two tries at the till.
//!
//! - the symbol, its bare margin included, nearer than 5 mm to the trim or to a fold: warning. Bars over a fold: error.
//! - neither upright nor turned by a quarter, or upside down: warning. A scanner reads bars both ways; whoever must type
//!   the figures does not.
//! - elsewhere than on the back, or on the back flap: note.
//!
//! All common practice: on the back, lower half, upright, 5 mm from trim and fold.
//!
//! ```kdl
//! panel back {
//!     barcode barcode { right fold 2; bottom safe; scale 100 }
//! }
//! ```
//!
//! Way out: `right safe; bottom safe`.

use crate::check::bars::Bars;
use crate::check::exam::{Exam, SheetSide, TOUCH};
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::ground::{Rect, Severity};
use crate::scene::{Media, PanelName};

pub const RULE: CheckRule = CheckRule {
    name: "bar-code-place",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[CLEAR],
    source: include_str!("bar_code_place.rs"),
    run,
};

const CLEAR: RuleLimit = in_mm("warning", "nearer to the trim or a fold than this is a warning", "5", PRACTICE);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in &exam.elements {
        let Some(bars) = Bars::of(element) else { continue };
        if bars.askew {
            let message = format!(
                "{} is turned, and not by a quarter; scanners and the dots of a press want bars along the sheet",
                element.name()
            );
            findings.element(
                Severity::Warning,
                element,
                message,
                "take the turn away: bars stand upright, like a picket fence",
            );
        }
        let upside_down = element.runs().any(|(run, _)| {
            let [a, b, ..] = run.transform.as_coeffs();
            a < -b.abs()
        });
        if upside_down {
            let message = format!("{} stands upside down", element.name());
            findings.element(
                Severity::Warning,
                element,
                message,
                "take the turn away: its figures stand below the bars",
            );
        }
        edges(exam, element, bars.symbol(element), findings);
        if let Some(panel) = exam.sheet().panel_at(element.bounds.center()).map(|panel| panel.name)
            && !matches!(panel, PanelName::Back | PanelName::BackFlap)
        {
            let message = format!("{} stands on the {panel}; booksellers look for it on the back", element.name());
            findings.element(Severity::Note, element, message, "move it to the back");
        }
    }
}

fn edges(exam: &Exam<'_>, element: &VisibleElement<'_>, frame: Rect, findings: &mut RuleFindings) {
    let crossed = exam.sheet().folds.iter().find(|fold| frame.x0 < fold.x - TOUCH && frame.x1 > fold.x + TOUCH);
    if let Some(fold) = crossed {
        let over = (fold.x - frame.x0).min(frame.x1 - fold.x);
        let message = format!("{} lies over a fold by {}", element.name(), mm(over));
        return findings.element(Severity::Error, element, message, "move it away from the fold");
    }
    let trim =
        SheetSide::ALL.map(|side| (side.gap(frame, exam.sheet().trim), format!("the trim at the {}", side.word())));
    let folds = exam.sheet().folds.iter().map(|fold| {
        let gap = if frame.center().x > fold.x { frame.x0 - fold.x } else { fold.x - frame.x1 };
        (gap, "a fold".to_owned())
    });
    let nearest = trim.into_iter().chain(folds).min_by(|a, b| a.0.total_cmp(&b.0));
    let clear = findings.limit(&CLEAR);
    if let Some((gap, edge)) = nearest.filter(|(gap, _)| *gap < clear - TOUCH) {
        let message = format!("{} stands {} from {edge}; it needs {}", element.name(), mm(gap), mm(clear));
        findings.element(Severity::Warning, element, message, format!("move it {} away", mm(clear - gap)));
        findings.measured(gap, &CLEAR);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::bars::trial::SampleBars;
    use crate::check::testing::{reported, reported_with};

    fn found(left: f64) -> Vec<Severity> {
        reported_with(&RULE, "", SampleBars { left, ..SampleBars::default() }.items())
            .iter()
            .map(|found| found.severity)
            .collect()
    }

    #[test]
    fn at_the_trim_over_a_fold_and_on_the_front() {
        assert_eq!(found(2.0), [Severity::Warning]);
        assert_eq!(found(110.0), [Severity::Error]);
        assert_eq!(found(200.0), [Severity::Note]);
    }

    #[test]
    fn upside_down() {
        let cover = |turn: u32| {
            let cover = format!("panel back {{ barcode code {{ right 20; bottom 20; scale 100; turn {turn} }} }}");
            reported(&RULE, &cover).into_iter().map(|found| found.message).collect::<Vec<_>>()
        };
        assert_eq!(cover(180), ["`code` stands upside down"]);
        assert_eq!(cover(90), [""; 0]);
        assert_eq!(cover(0), [""; 0]);
    }

    // The symbol is 37.29 mm wide and the back 129 mm.
    #[test]
    fn lower_right_of_the_back_passes() {
        assert_eq!(found(129.0 - 5.0 - 37.29), []);
        assert_eq!(found(5.0), []);
    }
}
