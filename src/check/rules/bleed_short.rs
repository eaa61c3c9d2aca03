//! Colour or a picture that ends at the trim, or beyond it but short of the bleed.
//!
//! What should run off the sheet must be printed past the cut. Where it is not, every sheet that is cut a little
//! too far out shows a white line along its edge.
//!
//! A straight edge that comes within 0.5 mm of the trim, or crosses it, must reach the whole bleed: error. A tip or a
//! curve that ends within 1 mm of the trim, on either side, may or may not be cut: warning. A case has a turn-in
//! instead of a bleed, and what goes round the board must reach at least 15 mm. A bleed under 3 mm, or a turn-in under
//! 15 mm, is reported once for the sheet. All common practice: bleed 3 mm or 1/8 in, turn-in 15 to 20 mm.
//!
//! ```kdl
//! panel front {
//!     band sky { swatch black percent=40; left fold; right trim; top bleed; height 80 }
//! }
//! ```
//!
//! Way out: `right bleed` for `right trim`; or keep the thing well within the trim.

use crate::check::exam::{Exam, SheetSide, TOUCH};
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::cover::Binding;
use crate::ground::{PathEl, Point, Severity, TOLERANCE, flatten, number};
use crate::scene::{Kind, Mark, Media};

pub const RULE: CheckRule = CheckRule {
    name: "bleed-short",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[BLEED, TURN_IN],
    source: include_str!("bleed_short.rs"),
    run,
};

const BLEED: RuleLimit = in_mm("bleed", "the least bleed of a sheet", "3", PRACTICE);
const TURN_IN: RuleLimit = in_mm("turn-in", "the least turn-in of a case", "15", PRACTICE);
/// Common practice, both.
const NEAR: f64 = 0.5;
const CUT: f64 = 1.0;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let sheet = exam.sheet();
    let format = &exam.facts().format;
    let case = format.binding == Binding::Case;
    let ring = SheetSide::Left.gap(sheet.trim, sheet.bleed);
    let (limit, word) = if case { (TURN_IN, "turn-in") } else { (BLEED, "bleed") };
    let least = findings.limit(&limit);
    let mut touches = false;
    for element in exam.elements.iter().filter(|element| matches!(element.origin.kind, Kind::Shape | Kind::Picture)) {
        for side in SheetSide::ALL {
            // How far it goes beyond the trim.
            let beyond = -side.gap(element.bounds, sheet.trim);
            touches |= beyond > -NEAR;
            let need = if case { ring.min(least) } else { ring };
            if beyond >= need - TOUCH || beyond <= -CUT {
                continue;
            }
            let straight = is_straight(element, side);
            if (straight && beyond <= -NEAR) || (!straight && beyond >= CUT) {
                continue;
            }
            let place = if beyond < -TOUCH {
                format!("{} before the trim", mm(-beyond))
            } else if beyond > TOUCH {
                format!("{} beyond the trim", mm(beyond))
            } else {
                "at the trim".to_owned()
            };
            let message =
                format!("{} ends {place} at the {}; the {word} needs {}", element.name(), side.word(), mm(need));
            let severity = if straight { Severity::Error } else { Severity::Warning };
            let help = "let it run to `bleed` on that side, or keep it well within the trim";
            findings.element(severity, element, message, help);
        }
    }
    if touches && ring < least - TOUCH {
        let message = format!("a {word} of {} is short; printers ask for {}", mm(ring), mm(least));
        let (severity, help) = if case {
            (Severity::Error, format!("write `board turn-in={}` in the format", number(least.max(17.0))))
        } else {
            (Severity::Warning, format!("write `bleed {}` in the format", number(least)))
        };
        findings.fact(severity, format.span, message, help);
        findings.measured(ring, &limit);
    }
}

/// Whether it ends in an edge along this side rather than in a tip or a curve.
fn is_straight(element: &VisibleElement<'_>, side: SheetSide) -> bool {
    element.marks.iter().any(|shown| {
        if side.gap(shown.bounds, element.bounds) > TOUCH {
            return false;
        }
        let Mark::Fill { path, .. } = &shown.item.mark else { return true };
        let at = |point: Point| match side {
            SheetSide::Left => (point.x - element.bounds.x0).abs(),
            SheetSide::Right => (point.x - element.bounds.x1).abs(),
            SheetSide::Head => (point.y - element.bounds.y0).abs(),
            SheetSide::Foot => (point.y - element.bounds.y1).abs(),
        };
        // Cut by a frame: what is left ends in the frame's edge.
        if side.gap(crate::ground::Shape::bounding_box(path), element.bounds) < -TOUCH {
            return true;
        }
        let mut along = 0.0;
        let mut last = Point::ZERO;
        let mut first = Point::ZERO;
        flatten(path, TOLERANCE, |element| {
            let to = match element {
                PathEl::MoveTo(point) => {
                    (first, last) = (point, point);
                    return;
                }
                PathEl::LineTo(point) => point,
                _ => first,
            };
            if at(last) < TOUCH && at(to) < TOUCH {
                along += last.distance(to);
            }
            last = to;
        });
        along > EDGE
    })
}

/// Millimetres along the trim from which an end is an edge.
const EDGE: f64 = 3.0;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_band_to_the_trim() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].message, "`sky` ends at the trim at the right; the bleed needs 3 mm");
    }

    #[test]
    fn a_curve_near_the_cut_is_left_to_chance() {
        let oval = |right: &str| {
            let cover =
                format!("panel front {{ oval sun {{ swatch black; right {right}; width 40; top 40; height 40 }} }}");
            reported(&RULE, &cover).iter().map(|found| found.severity).collect::<Vec<_>>()
        };
        assert_eq!(oval("0.3"), [Severity::Warning]);
        assert_eq!(oval("-2"), []);
        assert_eq!(oval("12"), []);
    }

    #[test]
    fn all_that_reaches_the_bleed_passes() {
        let cover = "wrap { band ground { swatch black; left bleed; right bleed; top bleed; bottom bleed } }
            panel front { image art file=\"art/small.jpg\" { left fold; right bleed; top bleed; bottom bleed; fit filling } }";
        assert_eq!(reported(&RULE, cover), []);
    }

    #[test]
    fn a_case_wants_its_turn_in() {
        let case = |turn_in: &str| {
            let format = format!("format case {{ trim 153 234; paper caliper=0.12; board turn-in={turn_in} }}\n");
            let cover =
                format + "wrap { band ground { swatch black; left bleed; right bleed; top bleed; bottom bleed } }";
            reported(&RULE, &cover).len()
        };
        assert_eq!(case("17"), 0);
        assert_eq!(case("10"), 1);
    }
}
