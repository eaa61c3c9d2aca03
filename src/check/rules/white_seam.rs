//! A hair of another colour between two shapes that should touch.
//!
//! Two bands meet at 40 mm, one ends at 39.95: on the screen they touch, in print a white thread runs between them, and
//! where the sheets register badly it grows.
//!
//! - straight edges of two shapes or pictures less than 0.1 mm apart along 3 mm or more, where the colour between them
//!   differs from both by 10 % of an ink: warning. Common practice: neighbours overlap by 0.1 to 0.2 mm.
//!
//! ```kdl
//! panel front {
//!     band sky { swatch black percent=40; left fold -1.5; right bleed; top bleed; height 80 }
//!     band sea { swatch black; left fold -1.5; right bleed; top 77.05; height 60 }
//! }
//! ```
//!
//! Way out: let one reach under the other, or place one by the other: `below sky 0`.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleMark;
use crate::ground::{Process, Rect, Severity, Shape};
use crate::scene::{Kind, Mark, Media};

pub const RULE: CheckRule = CheckRule {
    name: "white-seam",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[WIDEST],
    source: include_str!("white_seam.rs"),
    run,
};

const WIDEST: RuleLimit = in_mm("warning", "a gap under this width is taken for a seam", "0.1", PRACTICE);
/// Millimetres: as narrow as a seam can be made, and as long as one is seen.
const NARROWEST: f64 = 0.001;
const LONG: f64 = 3.0;
/// A share of one ink that the eye takes for another colour.
const DIFFERENCE: f64 = 0.1;
/// Shapes beyond these are a pattern, not a layout.
const BLOCKS: usize = 400;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let blocks = exam.elements.iter().flat_map(|element| element.marks.iter().map(move |mark| (element, mark)));
    let blocks: Vec<_> = blocks.filter(|(_, mark)| is_block(mark)).take(BLOCKS).collect();
    let mut reported: Vec<Rect> = Vec::new();
    let widest = findings.limit(&WIDEST);
    for (element, one) in &blocks {
        for (other_element, other) in &blocks {
            for (seam, before, after) in seams(one.bounds, other.bounds, widest) {
                if reported.contains(&seam) || !shows(exam, seam, before, after) {
                    continue;
                }
                reported.push(seam);
                let width = seam.width().min(seam.height());
                let message = format!(
                    "{} and {} leave a seam of {} between them",
                    element.name(),
                    other_element.name(),
                    mm(width)
                );
                let help =
                    format!("let one reach under the other, or place it by it: `below {} 0`", element.origin.element);
                findings.place(Severity::Warning, other_element.origin.span, seam.inflate(1.0, 1.0), message, help);
                findings.measured(width, &WIDEST);
            }
        }
    }
}

/// A picture, or a fill that is as large as its bounds: an upright rectangle.
fn is_block(mark: &VisibleMark<'_>) -> bool {
    match &mark.item.mark {
        Mark::Fill { path, .. } if mark.item.origin.kind == Kind::Shape => {
            let bounds = path.bounding_box();
            path.elements().len() <= 6 && path.area().abs() > bounds.area() * 0.999
        }
        Mark::Picture(_) => true,
        _ => false,
    }
}

/// The gap between two rectangles beside or below each other, with a place within each.
fn seams(one: Rect, other: Rect, widest: f64) -> impl Iterator<Item = (Rect, Rect, Rect)> {
    let is_seam = |gap: f64| (NARROWEST..widest).contains(&gap);
    let (top, foot) = (one.y0.max(other.y0), one.y1.min(other.y1));
    let (left, right) = (one.x0.max(other.x0), one.x1.min(other.x1));
    let beside = is_seam(other.x0 - one.x1) && foot - top >= LONG;
    let below = is_seam(other.y0 - one.y1) && right - left >= LONG;
    let (x, y) = (f64::midpoint(left, right), f64::midpoint(top, foot));
    let spot = |x: f64, y: f64| Rect::from_center_size((x, y), (0.02, 0.02));
    let across =
        beside.then(|| (Rect::new(one.x1, top, other.x0, foot), spot(one.x1 - 0.2, y), spot(other.x0 + 0.2, y)));
    let down =
        below.then(|| (Rect::new(left, one.y1, right, other.y0), spot(x, one.y1 - 0.2), spot(x, other.y0 + 0.2)));
    across.into_iter().chain(down)
}

/// Whether the finished sheet shows another colour between two places than at both.
fn shows(exam: &Exam<'_>, seam: Rect, before: Rect, after: Rect) -> bool {
    let inner = Rect::from_center_size(seam.center(), (seam.width().min(0.02) / 2.0, seam.height().min(0.02) / 2.0));
    let colour = |spot: Rect| exam.ground_inks(&exam.ground(exam.marks.len(), spot), spot);
    let differ = |a: Process, b: Process| a.iter().zip(b).any(|(a, b)| (a - b).abs() > DIFFERENCE);
    match (colour(before), colour(inner), colour(after)) {
        (Some(before), Some(between), Some(after)) => differ(before, between) && differ(after, between),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_twentieth_of_a_millimetre() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].message, "`sky` and `sea` leave a seam of 0.05 mm between them");
    }

    #[test]
    fn shapes_that_touch_overlap_or_stand_apart_pass() {
        let cover = |top: f64, ground: &str| {
            format!(
                "panel front {{ {ground}
                    band sky {{ swatch black percent=40; left 10; right 10; top 10; height 20 }}
                    band sea {{ swatch black; left 10; right 10; top {top}; height 60 }}
                }}"
            )
        };
        assert_eq!(reported(&RULE, &cover(30.05, "")).len(), 1);
        for top in [30.0, 29.9, 30.5] {
            assert_eq!(reported(&RULE, &cover(top, "")), [], "{top}");
        }
        let ground = "band ground { swatch black; left fold; right bleed; top bleed; bottom bleed }";
        assert_eq!(reported(&RULE, &cover(30.05, ground)), [], "the sea's own colour lies between");
    }
}
