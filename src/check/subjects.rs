//! Subjects: what each finding is about: its element, its panel, and how far it stands from the nearest edge of it.

use crate::check::exam::{Exam, SheetSide};
use crate::ground::{EdgeDistance, Finding, Rect};

/// Fills in what the place of a finding and the line that it points to tell.
pub fn subjects(exam: &Exam<'_>, findings: &mut [Finding]) {
    for finding in findings {
        let element = exam.elements.iter().find(|element| element.origin.span == finding.span);
        finding.subject.element = element.map(|element| element.origin.element.clone());
        let Some(place) = finding.place else { continue };
        let Some(panel) = exam.sheet().panel_at(place.center()) else { continue };
        if !holds(panel.rect, place) {
            continue;
        }
        finding.subject.panel = Some(panel.name.word().to_owned());
        let gaps = SheetSide::ALL.map(|side| (side, side.gap(place, panel.rect)));
        let nearest = gaps.into_iter().min_by(|a, b| a.1.total_cmp(&b.1));
        finding.subject.edge = nearest
            .map(|(side, gap)| EdgeDistance { edge: side.word().to_owned(), mm: (gap * 1000.0).round() / 1000.0 });
    }
}

/// Whether most of a place lies on a panel: what goes across the sheet is on none of them.
fn holds(panel: Rect, place: Rect) -> bool {
    2.0 * panel.intersect(place).area() >= place.area()
}
