//! Code inks: what bar codes and QR codes are printed in, and on.

use crate::check::exam::Exam;
use crate::check::limit::RuleLimit;
use crate::check::rule::{RuleFindings, percent};
use crate::check::under::{Ground, contains};
use crate::check::visible::VisibleElement;
use crate::ground::{Colour, Ink, Paint, Rect, Severity};
use crate::scene::Mark;

/// What makes inks unfit for a code: thinned, more than one, or a tint. What no ink prints is left open in its ground.
pub fn ink_fault(element: &VisibleElement<'_>, inks: &[Ink]) -> Option<String> {
    if element.marks.iter().any(|shown| shown.mixed) {
        return Some("are thinned or mixed with what lies under them".to_owned());
    }
    inks.iter().find_map(|ink| {
        let plates = ink.plates();
        let tint = strongest(ink);
        if plates > 1 {
            return Some(format!("are printed in {plates} inks, which never register exactly"));
        }
        (tint > 0.0 && tint < SOLID)
            .then(|| format!("are printed in a tint of {}, which is made of dots", percent(tint)))
    })
}

const SOLID: f64 = 0.999;

/// What makes a ground unfit for a code that is left open in it.
pub fn open_fault(ground: &Ink) -> Option<String> {
    let plates = ground.plates();
    if plates > 1 {
        return Some(format!("are left open in {plates} inks, which never register exactly"));
    }
    let tint = strongest(ground);
    (plates == 1 && tint < SOLID)
        .then(|| format!("are left open in a tint of {}, which is made of dots", percent(tint)))
}

fn strongest(ink: &Ink) -> f64 {
    match &ink.colour {
        Colour::Process(inks) => inks.iter().copied().fold(0.0, f64::max),
        Colour::Spot(_, tint) => *tint,
    }
}

/// A symbol's own ground or what lies under it; `None` where that is no flat colour.
pub fn flat_ground(exam: &Exam<'_>, element: &VisibleElement<'_>, zone: Rect) -> Option<Ink> {
    let own = element.marks.iter().find_map(|shown| match &shown.item.mark {
        Mark::Fill { paint: Paint::Ink(ink), .. } if contains(shown.bounds, zone) => Some(ink.clone()),
        _ => None,
    });
    own.or_else(|| match exam.ground(element.range.start, zone) {
        Ground::Paper => Some(Ink::PAPER),
        Ground::Flat(ink) => Some(ink.clone()),
        _ => None,
    })
}

/// How grave too little contrast is, and the limit that it misses. The error is asked first: a cover may move either.
pub fn too_little(
    contrast: f64,
    findings: &RuleFindings,
    (error, warning): (RuleLimit, RuleLimit),
) -> Option<(Severity, RuleLimit)> {
    let limits = [(Severity::Error, error), (Severity::Warning, warning)];
    limits.into_iter().find(|(_, limit)| contrast < findings.limit(limit) - 1e-6)
}
