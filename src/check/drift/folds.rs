//! What a fold in the wrong place exposes: edges of colour beside it, and words that leave the spine.

use crate::check::drift::limits::FOLD;
use crate::check::exam::{Exam, SheetSide};
use crate::check::rule::{RuleFindings, mm};
use crate::check::rules::colour_break_on_fold::{SHOWS, breaks};
use crate::ground::Severity;
use crate::scene::{Drift, FoldKind, Kind, PanelName};

/// What ends this much short of the full drift was carried round the fold.
const ENOUGH: f64 = 0.05;
/// Edges that are looked at; more are a pattern, not a layout.
const EDGES: usize = 400;

pub fn ask(exam: &Exam<'_>, drift: Drift, findings: &mut RuleFindings) {
    words(exam, drift, findings);
    let mut looked = 0;
    let folds: Vec<f64> =
        exam.sheet().folds.iter().filter(|fold| fold.kind == FoldKind::Fold).map(|fold| fold.x).collect();
    for element in exam.elements.iter().filter(|element| matches!(element.origin.kind, Kind::Shape | Kind::Picture)) {
        for fold in &folds {
            let edges = element.marks.iter().filter(|shown| shown.bounds.height() >= SHOWS);
            let edges = edges.flat_map(|shown| [(shown.bounds.x0, shown.bounds), (shown.bounds.x1, shown.bounds)]);
            let near = edges.filter(|(x, _)| (x - fold).abs() < drift.fold - ENOUGH);
            let mut near = near.take(EDGES - looked).inspect(|_| looked += 1);
            let broken = near.find(|(x, bounds)| breaks(exam, *x, *bounds, drift.fold / 2.0));
            let Some((x, _)) = broken else { continue };
            let beside = (x - fold).abs();
            let message = format!(
                "{} changes the colour {} from the fold at {}; a fold {} off leaves a strip of up to {} on the other panel",
                element.name(),
                mm(beside),
                mm(*fold),
                mm(drift.fold),
                mm(drift.fold + beside)
            );
            let help = format!("carry the colour {} round the fold, or change it well inside a panel", mm(drift.fold));
            findings.element(Severity::Warning, element, message, help);
            findings.measured(beside, &FOLD);
        }
    }
}

fn words(exam: &Exam<'_>, drift: Drift, findings: &mut RuleFindings) {
    let Some(spine) = exam.sheet().panel(PanelName::Spine).map(|panel| panel.rect) else { return };
    for element in exam.spine_words() {
        let gaps = [SheetSide::Left, SheetSide::Right].map(|side| side.gap(element.bounds, spine));
        let gap = gaps[0].min(gaps[1]);
        if gap < drift.fold - ENOUGH {
            let message = format!(
                "{} stands {} from a fold of the spine; a fold {} off puts {} of it onto the next panel",
                element.name(),
                mm(gap),
                mm(drift.fold),
                mm(drift.fold - gap)
            );
            findings.element(Severity::Warning, element, message, "set it smaller, or centre it across the spine");
            findings.measured(gap, &FOLD);
        }
    }
}
