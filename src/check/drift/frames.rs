//! Frames and margins that drift would make uneven.

use crate::check::drift::limits::UNEVEN;
use crate::check::exam::{Exam, SheetSide, TOUCH};
use crate::check::rule::{RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::ground::{Rect, Severity};
use crate::scene::{Drift, Kind, Surface};

/// Opposite margins this much apart are different on purpose.
const SAME: f64 = 0.5;

pub fn ask(exam: &Exam<'_>, drift: Drift, findings: &mut RuleFindings) {
    let limit = findings.limit(&UNEVEN);
    for element in exam.elements.iter().filter(|element| matches!(element.origin.kind, Kind::Shape | Kind::Picture)) {
        let Some(around) = around(exam, element) else { continue };
        let pairs = [(SheetSide::Left, SheetSide::Right), (SheetSide::Head, SheetSide::Foot)];
        let uneven = pairs.into_iter().filter_map(|(one, other)| {
            let gaps = (one.gap(element.bounds, around), other.gap(element.bounds, around));
            let off = edge(exam, around, one, drift).max(edge(exam, around, other, drift));
            let gap = gaps.0.min(gaps.1);
            let is_margin = gap > TOUCH && (gaps.0 - gaps.1).abs() <= SAME;
            let ratio = if gap > off { (gap + off) / (gap - off) } else { f64::INFINITY };
            (is_margin && ratio > limit + 1e-9).then_some((ratio, gap, off, one, other))
        });
        let Some((ratio, gap, off, one, other)) = uneven.max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
        let message = format!(
            "{} keeps {} on the {} and the {}; {} off they would be {} and {}",
            element.name(),
            mm(gap),
            one.word(),
            other.word(),
            mm(off),
            mm((gap - off).max(0.0)),
            mm(gap + off)
        );
        findings.element(Severity::Warning, element, message, "give it a wider margin, or let it run to the bleed");
        findings.measured(ratio.min(1000.0), &UNEVEN);
    }
}

/// The panel that an element stands on; for what belongs to the whole cover, the trim.
fn around(exam: &Exam<'_>, element: &VisibleElement<'_>) -> Option<Rect> {
    if element.origin.panel == Surface::Wrap {
        return Some(exam.sheet().trim);
    }
    exam.sheet().panel_at(element.bounds.center()).map(|panel| panel.rect)
}

/// How far the edge of a panel may be off: it is cut, or folded.
fn edge(exam: &Exam<'_>, around: Rect, side: SheetSide, drift: Drift) -> f64 {
    if side.gap(around, exam.sheet().trim).abs() < TOUCH { drift.cut } else { drift.fold }
}
