//! A gradient so long that its steps show as bands.
//!
//! A plate knows 256 tints. A run over little of that range, spread over a long way, has so few of them that each is seen as a
//! stripe.
//!
//! - steps of the ink that changes most, 256 for the whole range, wider than 0.75 mm each: note, for runs of 30 mm and more.
//!   Common practice. It is computed for every pair of stops.
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
        let paints = element.marks.iter().filter_map(|mark| mark.item.paint());
        let widest = paints.filter_map(|paint| match paint {
            Paint::Gradient(gradient) => widest(gradient, long),
            Paint::None | Paint::Ink(_) => None,
        });
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
fn widest(gradient: &Gradient, long: f64) -> Option<(f64, f64)> {
    let length = gradient.course.length();
    let steps = gradient.stops.windows(2).filter_map(|pair| {
        let run = (pair[1].0 - pair[0].0) * length;
        let steps = change(&pair[0].1, &pair[1].1) * STEPS;
        (steps >= 1.0 && run >= long).then(|| (run / steps, run))
    });
    steps.max_by(|a, b| a.0.total_cmp(&b.0))
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
}
