//! Code inks: what bar codes and QR codes are printed in, and on.

use crate::check::exam::Exam;
use crate::check::limit::RuleLimit;
use crate::check::rule::{RuleFindings, percent};
use crate::check::under::{Ground, contains};
use crate::check::visible::VisibleElement;
use crate::ground::{Colour, Ink, Paint, Process, Rect, Severity};
use crate::scene::Mark;

/// What makes inks unfit for a code: thinned, more than one, or a tint.
pub fn ink_fault(element: &VisibleElement<'_>, inks: &[Ink]) -> Option<String> {
    if element.marks.iter().any(|shown| shown.mixed) {
        return Some("are thinned or mixed with what lies under them".to_owned());
    }
    inks.iter().find_map(|ink| {
        let plates = ink.plates();
        let tint = match &ink.colour {
            Colour::Process(inks) => inks.iter().copied().fold(0.0, f64::max),
            Colour::Spot(_, tint) => *tint,
        };
        if plates > 1 {
            return Some(format!("are printed in {plates} inks, which never register exactly"));
        }
        (tint < SOLID).then(|| format!("are printed in a tint of {}, which is made of dots", percent(tint)))
    })
}

const SOLID: f64 = 0.999;

/// The look of a symbol's own ground or of what lies under it; `None` where that is no flat colour.
pub fn flat_ground(exam: &Exam<'_>, element: &VisibleElement<'_>, zone: Rect) -> Option<Process> {
    let own = element.marks.iter().find_map(|shown| match &shown.item.mark {
        Mark::Fill { paint: Paint::Ink(ink), .. } if contains(shown.bounds, zone) => Some(ink.look()),
        _ => None,
    });
    own.or_else(|| match exam.ground(element.range.start, zone) {
        Ground::Paper => Some([0.0; 4]),
        Ground::Flat(ink) => Some(ink.look()),
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
