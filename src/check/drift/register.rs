//! Register: colours without a common ink, one left open in the other.

use crate::check::drift::limits::REGISTER;
use crate::check::exam::Exam;
use crate::check::proof::{contrast, luminance};
use crate::check::rule::{RuleFindings, mm};
use crate::check::under::Ground;
use crate::check::visible::VisibleElement;
use crate::ground::{Colour, Ink, PROCESS_PLATES, Paint, Rect, Severity};
use crate::scene::{Drift, Mark};

/// The contrast to bare paper from which a thin white line is seen, to 1. Ours.
const SEEN: f64 = 1.6;
/// A share of an ink that hides the paper.
const HIDES: f64 = 0.1;

pub fn ask(exam: &Exam<'_>, drift: Drift, findings: &mut RuleFindings) {
    for element in &exam.elements {
        if let Some((own, under)) = apart(exam, element) {
            let message = format!(
                "{} ({own}) is left open in a ground of {under}, and the two share no ink: plates {} apart leave a white line",
                element.name(),
                mm(drift.register)
            );
            findings.element(Severity::Note, element, message, "give both some of one ink, or let the upper overprint");
            findings.measured(drift.register, &REGISTER);
        }
    }
}

/// The inks of an element and of the flat ground that it is left open in, when they have none in common.
fn apart(exam: &Exam<'_>, element: &VisibleElement<'_>) -> Option<(String, String)> {
    element.marks.iter().filter(|shown| !shown.mixed).find_map(|shown| {
        let (Mark::Fill { paint, .. } | Mark::Stroke { paint, .. }) = &shown.item.mark else {
            let Mark::Glyphs(run) = &shown.item.mark else { return None };
            return pair(exam, element, &run.paint, shown.bounds);
        };
        pair(exam, element, paint, shown.bounds)
    })
}

fn pair(exam: &Exam<'_>, element: &VisibleElement<'_>, paint: &Paint, bounds: Rect) -> Option<(String, String)> {
    let Paint::Ink(own) = paint else { return None };
    if own.overprints() || own.is_finishing() {
        return None;
    }
    let Ground::Flat(under) = exam.ground(element.range.start, bounds) else { return None };
    if !stands_out(exam, own) || !stands_out(exam, under) {
        return None;
    }
    let (own, under) = (inks(own), inks(under));
    let shared = own.iter().any(|(name, _)| under.iter().any(|(other, _)| name == other));
    (!own.is_empty() && !under.is_empty() && !shared).then(|| (named(&own), named(&under)))
}

/// Whether a line of bare paper beside it would be seen.
fn stands_out(exam: &Exam<'_>, ink: &Ink) -> bool {
    let bytes = ink.look().map(|share| (share * 255.0).round().clamp(0.0, 255.0) as u8);
    let light = |bytes: [u8; 4]| luminance(&exam.scene.profile.screen_pixels(&bytes));
    contrast(light([0; 4]), light(bytes)) >= SEEN
}

/// The inks that hide the paper, by name.
fn inks(ink: &Ink) -> Vec<(String, f64)> {
    let all: Vec<(String, f64)> = match &ink.colour {
        Colour::Process(shares) => {
            let names = PROCESS_PLATES.map(str::to_lowercase);
            names.into_iter().zip(shares.iter().copied()).collect()
        }
        Colour::Spot(spot, tint) => vec![(spot.name.clone(), *tint)],
    };
    all.into_iter().filter(|(_, share)| *share > HIDES).collect()
}

fn named(inks: &[(String, f64)]) -> String {
    inks.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>().join(", ")
}
