//! Strips along the edge of the sheet that a cut may halve or take away.

use crate::check::drift::limits::CUT;
use crate::check::exam::{Exam, SheetSide, TOUCH};
use crate::check::rule::{RuleFindings, mm};
use crate::ground::{Rect, Severity};
use crate::scene::{Drift, Kind};

/// So many times the drift a strip is wide enough to look meant.
const ENOUGH: f64 = 2.0;

pub fn ask(exam: &Exam<'_>, drift: Drift, findings: &mut RuleFindings) {
    let sheet = exam.sheet();
    for element in exam.elements.iter().filter(|element| matches!(element.origin.kind, Kind::Shape | Kind::Picture)) {
        for side in SheetSide::ALL {
            if side.gap(element.bounds, sheet.bleed) > TOUCH {
                continue;
            }
            let wide = width(side, element.bounds, sheet.trim);
            if wide <= -drift.cut + TOUCH || wide > ENOUGH * drift.cut + TOUCH {
                continue;
            }
            let (least, most) = ((wide - drift.cut).max(0.0), wide + drift.cut);
            let shown = if wide > 0.0 { format!("shows {} of itself", mm(wide)) } else { "is all cut off".to_owned() };
            let message = format!(
                "{} {shown} at the {}; a cut {} off leaves between {} and {}",
                element.name(),
                side.word(),
                mm(drift.cut),
                mm(least),
                mm(most)
            );
            let help = "let it reach further into the cover, or end it well outside the trim";
            findings.element(Severity::Warning, element, message, help);
            findings.measured(wide, &CUT);
        }
    }
}

/// How much of something shows along a side that it reaches over.
fn width(side: SheetSide, bounds: Rect, trim: Rect) -> f64 {
    match side {
        SheetSide::Left => bounds.x1 - trim.x0,
        SheetSide::Right => trim.x1 - bounds.x0,
        SheetSide::Head => bounds.y1 - trim.y0,
        SheetSide::Foot => trim.y1 - bounds.y0,
    }
}
