//! White edges: colour that ends where a cut may still fall, looked for on the composed sheet.

use crate::check::drift::limits::CUT;
use crate::check::exam::{Exam, SheetSide};
use crate::check::rule::{RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::ground::{MM_PER_INCH, Point, Rect, Severity, Span};
use crate::raster::{Plates, plates};
use crate::scene::{Drift, Kind};

/// Pixels per inch: two and a half a millimetre.
const PPI: f64 = 63.5;
/// Just inside the trim.
const INSIDE: f64 = 0.4;
/// Inks of all plates together that are a colour, and those that are none, of 255.
const COLOUR: u32 = 26;
const NONE: u32 = 5;
/// Millimetres of white edge that are seen.
const SEEN: f64 = 3.0;
const STEP: f64 = 0.5;

pub fn ask(exam: &Exam<'_>, drift: Drift, findings: &mut RuleFindings) {
    let sheet = exam.sheet();
    // No sheet is white by drift that has no colour, and nothing is printed beyond the bleed.
    if exam.elements.is_empty() || sheet.bleed == sheet.trim {
        return;
    }
    let drawn = plates(exam.scene, sheet.bleed, PPI, exam.darkroom);
    for side in SheetSide::ALL {
        let (from, to) = match side {
            SheetSide::Left | SheetSide::Right => (sheet.trim.y0, sheet.trim.y1),
            SheetSide::Head | SheetSide::Foot => (sheet.trim.x0, sheet.trim.x1),
        };
        let mut run: Option<(f64, f64)> = None;
        let steps = ((to - from) / STEP) as usize;
        for step in 0..=steps {
            let along = from + step as f64 * STEP;
            let inside = ink(&drawn, sheet.bleed, place(side, sheet.trim, along, INSIDE));
            let outside = ink(&drawn, sheet.bleed, place(side, sheet.trim, along, -drift.cut));
            let is_white = inside >= COLOUR && outside <= NONE;
            if is_white && step < steps {
                run = Some((run.map_or(along, |run| run.0), along));
            } else if let Some((start, end)) = run.take()
                && end - start >= SEEN
            {
                tell(exam, side, (start, end), drift, findings);
            }
        }
    }
}

fn tell(exam: &Exam<'_>, side: SheetSide, (start, end): (f64, f64), drift: Drift, findings: &mut RuleFindings) {
    let trim = exam.sheet().trim;
    let (a, b) = (place(side, trim, start, 0.0), place(side, trim, end, -drift.cut));
    let area = Rect::from_points(a, b);
    let inside = place(side, trim, f64::midpoint(start, end), INSIDE);
    let blamed =
        exam.elements.iter().rev().find(|element| {
            matches!(element.origin.kind, Kind::Shape | Kind::Picture) && element.bounds.contains(inside)
        });
    let span = blamed.map_or_else(Span::default, |element| element.origin.span);
    let name = blamed.map_or_else(|| "colour".to_owned(), VisibleElement::name);
    let message = format!(
        "{name} would show a white edge of {} at the {}: it ends before a cut {} off",
        mm(end - start),
        side.word(),
        mm(drift.cut)
    );
    findings.place(Severity::Warning, span, area, message, "let it run to the bleed");
    findings.measured(drift.cut, &CUT);
}

/// A point at a distance along a side, so far inside it.
fn place(side: SheetSide, trim: Rect, along: f64, inside: f64) -> Point {
    match side {
        SheetSide::Left => Point::new(trim.x0 + inside, along),
        SheetSide::Right => Point::new(trim.x1 - inside, along),
        SheetSide::Head => Point::new(along, trim.y0 + inside),
        SheetSide::Foot => Point::new(along, trim.y1 - inside),
    }
}

/// All plates together at a point.
fn ink(drawn: &Plates, area: Rect, point: Point) -> u32 {
    let pixel = |mm: f64| (mm * drawn.ppi / MM_PER_INCH).max(0.0) as usize;
    let (column, row) = (pixel(point.x - area.x0).min(drawn.width - 1), pixel(point.y - area.y0).min(drawn.height - 1));
    let planes = drawn.process.iter().chain(drawn.spots.iter().map(|(_, plane)| plane));
    planes.filter_map(|plane| plane.get(row * drawn.width + column)).map(|ink| u32::from(*ink)).sum()
}
