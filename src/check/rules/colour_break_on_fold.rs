//! A colour that changes exactly on a fold.
//!
//! The fold is never exactly where it was planned: binding drifts by up to 1.5 mm. A colour that ends on it shows
//! as a crooked stripe of the wrong colour on one panel or the other.
//!
//! - a straight edge of a shape or picture within 0.75 mm of a fold, with another colour beyond it (10 % of one ink or
//!   more): warning. Common practice. Where the same colour continues, there is no finding.
//! - of all edges near folds the first 400 are looked at; more of them are a pattern.
//!
//! ```kdl
//! panel spine {
//!     band stripe { swatch black; left fold; right fold; top bleed; bottom bleed }
//! }
//! ```
//!
//! Way out: carry the colour at least 1.5 mm round the fold, `left fold -1.5`, or let one colour run through and change it
//! well inside a panel.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::under::Ground;
use crate::check::visible::VisibleElement;
use crate::ground::{Rect, Severity};
use crate::scene::{Fold, FoldKind, Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "colour-break-on-fold",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[NEAR],
    source: include_str!("colour_break_on_fold.rs"),
    run,
};

const NEAR: RuleLimit = in_mm("warning", "an edge of colour this near to a fold is a warning", "0.75", PRACTICE);
/// Millimetres of edge that show as a stripe.
pub const SHOWS: f64 = 4.0;
/// A share of one ink that the eye takes for another colour.
const DIFFERENCE: f64 = 0.1;
/// Edges near folds beyond these are a pattern, not a layout.
const EDGES: usize = 400;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let mut looked = 0;
    let reach = findings.limit(&NEAR);
    for element in exam.elements.iter().filter(|element| matches!(element.origin.kind, Kind::Shape | Kind::Picture)) {
        for fold in exam.sheet().folds.iter().filter(|fold| fold.kind == FoldKind::Fold) {
            let edges = element.marks.iter().filter(|shown| shown.bounds.height() >= SHOWS);
            let edges = edges.flat_map(|shown| [(shown.bounds.x0, shown.bounds), (shown.bounds.x1, shown.bounds)]);
            let near = edges.filter(|(x, _)| (x - fold.x).abs() <= reach);
            let mut near = near.take(EDGES - looked).inspect(|_| looked += 1);
            let broken = near.find_map(|(x, bounds)| breaks(exam, x, bounds, reach).then_some(x));
            if let Some(x) = broken {
                tell(element, fold, x, findings);
            }
        }
    }
}

fn tell(element: &VisibleElement<'_>, fold: &Fold, x: f64, findings: &mut RuleFindings) {
    let off = (x - fold.x).abs();
    let place = if off < 0.01 { "on the fold".to_owned() } else { format!("{} beside the fold", mm(off)) };
    let message = format!(
        "{} changes the colour {place} at {}: folds are never that exact, so a stripe may show",
        element.name(),
        mm(fold.x)
    );
    let help = "carry the colour 1.5 mm round the fold, such as `left fold -1.5` or a ground's `reach 1.5`, or change it well inside a panel";
    findings.element(Severity::Warning, element, message, help);
    findings.measured(off, &NEAR);
}

/// Whether the finished sheet shows different colours on both sides of an edge, at most of several heights.
pub fn breaks(exam: &Exam<'_>, x: f64, bounds: Rect, aside: f64) -> bool {
    const HEIGHTS: usize = 9;
    let trim = exam.sheet().trim;
    let (top, foot) = (bounds.y0.max(trim.y0), bounds.y1.min(trim.y1));
    let different = (0..HEIGHTS).filter(|step| {
        let y = top + (foot - top) * (*step as f64 + 0.5) / HEIGHTS as f64;
        let spot = |x: f64| Rect::new(x - 0.1, y - 0.1, x + 0.1, y + 0.1);
        let (left, right) = (spot(x - aside), spot(x + aside));
        let grounds = (exam.ground(exam.marks.len(), left), exam.ground(exam.marks.len(), right));
        if let (Ground::Picture(a), Ground::Picture(b)) = grounds
            && std::ptr::eq(a, b)
        {
            return false;
        }
        let (Some(a), Some(b)) = (exam.ground_inks(&grounds.0, left), exam.ground_inks(&grounds.1, right)) else {
            return false;
        };
        a.iter().zip(b).any(|(a, b)| (a - b).abs() > DIFFERENCE)
    });
    different.count() * 2 > HEIGHTS
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_stripe_the_width_of_the_spine() {
        let found = example(&RULE);
        assert_eq!(found.len(), 2, "both folds");
        assert_eq!(
            found[0].message,
            "`stripe` changes the colour on the fold at 129 mm: folds are never that exact, so a stripe may show"
        );
    }

    /// Three grounds that touch: the folds drift, so both are reported. One that reaches over the folds and lies on top of
    /// its neighbours passes; one that lies under them does not.
    #[test]
    fn grounds_that_reach_over_the_folds_pass() {
        let sides = "panel back { ground a { swatch black percent=10 } }\n\
                     panel front { ground a { swatch black percent=20 } }\n";
        let spine = |reach: &str| format!("panel spine {{ ground a {{ swatch black percent=80; {reach} }} }}\n");
        assert_eq!(reported(&RULE, &(sides.to_owned() + &spine(""))).len(), 4, "each of two colours at each fold");
        assert_eq!(reported(&RULE, &(sides.to_owned() + &spine("reach 1.5"))), []);
        assert_eq!(reported(&RULE, &(spine("reach 1.5") + sides)).len(), 2);
        let touching = "wrap { ground a { swatch black } }";
        assert_eq!(reported(&RULE, touching), []);
    }

    #[test]
    fn four_hundred_edges_are_looked_at() {
        let cover = |before: usize| {
            let band = |at| format!("band b{at} {{ swatch black percent=5; left fold; width 9; top 20; height 9 }}\n");
            let faint: String = (0..before).map(band).collect();
            format!(
                "panel front {{ {faint} }}
                panel spine {{ band stripe {{ swatch black; left fold; right fold; top 60; bottom bleed }} }}"
            )
        };
        for (before, found) in [(EDGES - 2, 2), (EDGES - 1, 1), (EDGES, 0)] {
            assert_eq!(reported(&RULE, &cover(before)).len(), found, "after {before} other edges");
        }
    }

    #[test]
    fn colour_carried_round_or_going_on_passes() {
        let round = "panel spine { band a { swatch black; left fold -1.5; right fold -1.5; top bleed; bottom bleed } }";
        assert_eq!(reported(&RULE, round), []);
        let on = "panel spine { band a { swatch black; left fold; right fold; top bleed; bottom bleed } }
            panel back { band b { swatch black; left bleed; right fold; top bleed; bottom bleed } }
            panel front { band c { swatch black percent=95; left fold; right bleed; top bleed; bottom bleed } }";
        assert_eq!(reported(&RULE, on), []);
    }
}
