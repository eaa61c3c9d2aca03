//! Something in the bare margin that a bar code needs.
//!
//! A scanner finds the code by the bare stripes at both ends. If a picture, a rule or the edge of the paper is in them, it
//! cannot tell where the code begins.
//!
//! - anything printed within 11 narrowest bars to the left of the bars or 7 to the right (5 beside an add-on), or between
//!   the bars: error. The trim or a fold there: error. Widths: a GS1 size guide; the add-on's from memory.
//! - the same within four modules around a QR code (ISO/IEC 18004).
//!
//! A clear varnish over the bars passes. What lies under the symbol's own ground does not count, nor does a flat colour under the whole of it: that is
//! `bar-code-colour`.
//!
//! ```kdl
//! panel back {
//!     barcode barcode { right safe; bottom safe; scale 100 }
//!     rule line { swatch black; weight 1; left safe; right safe; bottom 20 }
//! }
//! ```
//!
//! Way out: move it away from the code, or the code away from it.

use crate::check::bars::Bars;
use crate::check::exam::{Exam, SheetSide, TOUCH};
use crate::check::limit::{GS1, RuleLimit, bare};
use crate::check::qr_marks::QrMarks;
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::under::{Ground, contains, overlap};
use crate::check::visible::VisibleElement;
use crate::ground::{Paint, Rect, Severity};
use crate::scene::{Mark, Media};

pub const RULE: CheckRule = CheckRule {
    name: "bar-code-quiet-zone",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[LEFT, RIGHT, ADD_ON],
    source: include_str!("bar_code_quiet_zone.rs"),
    run,
};

const LEFT: RuleLimit = bare("left", "narrowest bars of bare margin at the left", "11", GS1);
const RIGHT: RuleLimit = bare("right", "narrowest bars of bare margin at the right", "7", GS1);
const ADD_ON: RuleLimit = bare("add-on", "narrowest bars of bare margin beside an add-on", "5", "GS1, from memory");

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let [left, right, add_on] = [LEFT, RIGHT, ADD_ON].map(|limit| findings.limit(&limit));
    for element in &exam.elements {
        let bars = Bars::of(element).filter(|bars| !bars.askew).map(|bars| bars.with_zones(left, right, add_on));
        let Some(zone) = bars.or_else(|| QrMarks::of(element).map(|marks| marks.zone)) else { continue };
        intruders(exam, element, zone, findings);
        under(exam, element, zone, findings);
        edges(exam, element, zone, findings);
    }
}

/// Marks on top of the symbol.
fn intruders(exam: &Exam<'_>, element: &VisibleElement<'_>, zone: Rect, findings: &mut RuleFindings) {
    let inner = zone.inset(-TOUCH);
    let above =
        exam.elements.iter().filter(|other| other.range.start >= element.range.end && overlap(other.bounds, inner));
    for other in above {
        let mut clear = true;
        other.inks(&mut |ink, _| clear &= ink.is_clear());
        let varnish = clear && other.marks.iter().all(|shown| !matches!(shown.item.mark, Mark::Picture(_)));
        if !varnish && other.marks.iter().any(|shown| overlap(shown.bounds, inner)) {
            let message = format!("{} lies in the quiet zone of {}", other.name(), element.name());
            let help = format!("the code needs {} of bare width; move one of the two", mm(zone.width()));
            findings.element(Severity::Error, other, message, help);
        }
    }
}

/// Marks below, where the symbol brings no ground that covers them.
fn under(exam: &Exam<'_>, element: &VisibleElement<'_>, zone: Rect, findings: &mut RuleFindings) {
    let covered = element.marks.iter().any(|shown| {
        matches!(&shown.item.mark, Mark::Fill { paint: Paint::Ink(ink), .. } if !ink.overprint)
            && contains(shown.bounds, zone)
    });
    if !covered && matches!(exam.ground(element.range.start, zone), Ground::Mixed) {
        let message = format!("what lies under {} changes within its quiet zone", element.name());
        let help = format!("put a ground of {} × {} under the code", mm(zone.width()), mm(zone.height()));
        findings.element(Severity::Error, element, message, help);
    }
}

fn edges(exam: &Exam<'_>, element: &VisibleElement<'_>, zone: Rect, findings: &mut RuleFindings) {
    let over = SheetSide::ALL.map(|side| (side, -side.gap(zone, exam.sheet().trim)));
    let cut: Vec<String> = over
        .into_iter()
        .filter(|(_, over)| *over > TOUCH)
        .map(|(side, over)| format!("{} at the {}", mm(over), side.word()))
        .collect();
    let crossed = exam.sheet().folds.iter().find(|fold| zone.x0 < fold.x - TOUCH && zone.x1 > fold.x + TOUCH);
    let crossed = crossed.map(|fold| mm((fold.x - zone.x0).min(zone.x1 - fold.x)));
    let (what, help) = match (cut.is_empty(), crossed) {
        (true, None) => return,
        (true, Some(over)) => (format!("lies over a fold by {over}"), "move the code away from the fold"),
        (false, None) => (format!("is cut by {}", cut.join(" and ")), "move the code inwards"),
        (false, Some(over)) => (
            format!("is cut by {}, and lies over a fold by {over}", cut.join(" and ")),
            "move the code inwards and away from the fold, or make it smaller",
        ),
    };
    findings.element(Severity::Error, element, format!("the quiet zone of {} {what}", element.name()), help);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::bars::trial::SampleBars;
    use crate::check::testing::{fill, origin, reported, reported_with};
    use crate::ground::Ink;
    use crate::scene::Kind;

    const DARK: &str =
        "panel back { image a file=\"art/ink.tif\" { left bleed; right fold; top 100; bottom bleed; fit filling } }";

    fn found(cover: &str, trial: &SampleBars) -> usize {
        reported_with(&RULE, cover, trial.items()).len()
    }

    #[test]
    fn a_rule_in_the_zone() {
        let mut items = SampleBars::default().items();
        let rect = Rect::new(80.0, 170.0, 86.0, 171.0);
        items.push(fill(&origin("line", Kind::Shape, rect), rect, Ink::black(1.0)));
        let found = reported_with(&RULE, "", items);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].message, "`line` lies in the quiet zone of `barcode`");
    }

    #[test]
    fn varnish_passes_and_foil_does_not() {
        let over = |swatch: &str| {
            format!(
                "swatches {{ spot coat ink=\"Coat\" {swatch} }}
                panel back {{
                    barcode code {{ right safe; bottom safe; scale 100 }}
                    band veil {{ swatch coat; left bleed; right fold; top bleed; bottom bleed }}
                }}"
            )
        };
        assert_eq!(reported(&RULE, &over("c=4 finishing=varnish")), []);
        assert_eq!(reported(&RULE, &over("c=20 finishing=foil")).len(), 1);
    }

    #[test]
    fn over_the_trim_and_over_a_fold() {
        assert_eq!(found("", &SampleBars { left: -2.0, ..SampleBars::default() }), 1);
        assert_eq!(found("", &SampleBars { left: 100.0, ..SampleBars::default() }), 1);
    }

    /// A corner of the sheet cuts two sides, and a code over a fold and the foot has both: one finding names all.
    #[test]
    fn all_sides_stand_in_one_finding() {
        let of = |trial: SampleBars| {
            let found = reported_with(&RULE, "", trial.items());
            assert_eq!(found.len(), 1, "{found:?}");
            found[0].message.clone()
        };
        let corner = of(SampleBars { left: -2.0, top: -3.0, ..SampleBars::default() });
        assert!(corner.contains(" at the left and ") && corner.ends_with(" at the head"), "{corner}");
        let both = of(SampleBars { left: 100.0, top: -3.0, ..SampleBars::default() });
        assert!(both.contains(" at the head, and lies over a fold by "), "{both}");
    }

    #[test]
    fn on_its_own_ground_or_on_a_flat_one_it_passes() {
        assert_eq!(found("", &SampleBars::default()), 0);
        assert_eq!(found(DARK, &SampleBars::default()), 0);
        let flat = "panel back { band a { swatch black percent=5; left bleed; right fold; top bleed; bottom bleed } }";
        assert_eq!(found(flat, &SampleBars { ground: None, ..SampleBars::default() }), 0);
        let half = "panel back { band a { swatch black; left bleed; width 90; top bleed; bottom bleed } }";
        assert_eq!(found(half, &SampleBars { ground: None, ..SampleBars::default() }), 1);
    }
}
