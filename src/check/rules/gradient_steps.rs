//! A gradient so long that its steps show as bands.
//!
//! A plate knows 256 tints. A run over little of that range, spread over a long way, has so few of them that each is seen as a
//! stripe.
//!
//! - steps of the ink that changes most, 256 for the whole range, wider than 0.75 mm each: note, for runs of 30 mm and more.
//!   Common practice. It is computed for every pair of stops; for a run to `none` between its ink and the flat colour that
//!   it fades into. Over a picture no step is seen.
//!
//! ```kdl
//! swatches { swatch dusk k=20; swatch night k=60; }
//! panel front { band sky { gradient dusk night; left fold -1.5; right bleed; top bleed; bottom bleed } }
//! ```
//!
//! Way out: a shorter run, a wider range of tints, or a picture with some noise in it.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::under::Ground;
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{Colour, Gradient, Ink, Paint, Severity};
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "gradient-steps",
    severity: Severity::Note,
    media: Media::Print,
    limits: &[WIDEST, LONG],
    source: include_str!("gradient_steps.rs"),
    run,
};

const STEPS: f64 = 256.0;
const WIDEST: RuleLimit = in_mm("note", "wider steps are a note", "0.75", PRACTICE).most();
/// A shorter run has few bands, which read as a soft edge.
const LONG: RuleLimit = in_mm("run", "shorter runs pass", "30", PRACTICE).most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let (most, long) = (findings.limit(&WIDEST), findings.limit(&LONG));
    for element in &exam.elements {
        let widest = element.marks.iter().flat_map(|mark| {
            let own = match mark.item.paint() {
                Some(Paint::Gradient(gradient)) => widest(gradient, long, &change),
                _ => None,
            };
            [own, fading(exam, element, mark, long)]
        });
        let widest = widest.flatten();
        let Some((step, length)) = widest.max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
        if step > most + 1e-6 {
            let message = format!(
                "a gradient of {} has steps of {} over {}; more than {} shows as bands",
                element.name(),
                mm(step),
                mm(length),
                mm(most)
            );
            findings.element(Severity::Note, element, message, "make the run shorter, or its range of tints wider");
            findings.measured(step, &WIDEST);
        }
    }
}

/// The widest step between two stops, and the length of its run.
fn widest(gradient: &Gradient, long: f64, change: &dyn Fn(&Ink, &Ink) -> f64) -> Option<(f64, f64)> {
    let length = gradient.course.length();
    let steps = gradient.stops.windows(2).filter_map(|pair| {
        let run = (pair[1].0 - pair[0].0) * length;
        let steps = change(&pair[0].1, &pair[1].1) * STEPS;
        (steps >= 1.0 && run >= long).then(|| (run / steps, run))
    });
    steps.max_by(|a, b| a.0.total_cmp(&b.0))
}

/// The same of a mark that fades to nothing, where it fades into bare paper or one flat ink.
fn fading(exam: &Exam<'_>, element: &VisibleElement<'_>, mark: &VisibleMark<'_>, long: f64) -> Option<(f64, f64)> {
    let veil = mark.veil?.iter().filter_map(|item| match item.paint() {
        Some(Paint::Gradient(gradient)) => Some(gradient),
        _ => None,
    });
    let ground = match exam.ground(element.range.start, mark.bounds) {
        Ground::Paper => Ink::PAPER,
        Ground::Flat(ink) => ink.clone(),
        Ground::Picture(_) | Ground::Mixed => return None,
    };
    let mut most = 0.0_f64;
    mark.item.inks(&mut |ink| most = most.max(change(ink, &ground)));
    veil.filter_map(|shows| widest(shows, long, &|from, to| (from.total() - to.total()).abs() * most))
        .max_by(|a, b| a.0.total_cmp(&b.0))
}

/// How much the ink changes that changes most.
fn change(from: &Ink, to: &Ink) -> f64 {
    match (&from.colour, &to.colour) {
        (Colour::Process(a), Colour::Process(b)) => a.iter().zip(b).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max),
        (Colour::Spot(a, from), Colour::Spot(b, to)) if a.name == b.name => (from - to).abs(),
        _ => from.total().max(to.total()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // 204 mm over 40 % of 256 steps are 1.99 mm each; 100 mm 0.98, 75 mm 0.73.
    #[test]
    fn a_long_run_over_little() {
        let said = example(&RULE);
        assert_eq!(said.len(), 1, "{said:?}");
        let cover = |height: u32, end: u32| {
            let cover = format!(
                "swatches {{ swatch dusk k=0; swatch night k={end} }}
                panel front {{ band a {{ gradient dusk night; left 10; width 50; top 10; height {height} }} }}"
            );
            reported(&RULE, &cover).len()
        };
        assert_eq!([cover(100, 40), cover(75, 40), cover(150, 100), cover(20, 5)], [1, 0, 0, 0]);
    }

    // To nothing it runs over as many tints as lie between its ink and the ground: 100 mm over 40 % are 0.98 a step, over a
    // ground of 30 % only a tenth is left of it, 3.91.
    #[test]
    fn a_run_to_nothing() {
        let step = |under: &str, height: u32| {
            let cover = format!(
                "swatches {{ swatch night k=40 }}
                panel front {{
                    {under}
                    band a {{ gradient night none; left 10; width 50; top 10; height {height} }}
                }}"
            );
            let found = reported(&RULE, &cover);
            found.first().map(|finding| finding.message.clone()).unwrap_or_default()
        };
        let flat = "band b { swatch black percent=30; left 0; width 90; top 0; height 180 }";
        let picture = "image b file=\"art/small.jpg\" { fit filling; left 0; width 90; top 0; height 180 }";
        assert!(step("", 100).contains("has steps of 0.98 mm over 100 mm"), "{}", step("", 100));
        assert!(step(flat, 100).contains("has steps of 3.91 mm over 100 mm"), "{}", step(flat, 100));
        assert_eq!([step("", 75), step(picture, 100)], ["", ""]);
    }
}
