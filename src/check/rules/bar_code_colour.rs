//! A bar code in colours that a scanner does not tell apart.
//!
//! A scanner reads by red light. To it, red, orange and yellow bars are white, and blue and green grounds are black. Bars in
//! several inks or in a tint have ragged edges, however dark they are.
//!
//! - bars in no ink, in more than one, in a tint, or thinned by a group: error.
//! - a picture, a gradient or several things under the bars: error.
//! - contrast between ground and bars at 670 nm, as difference of reflectance: under 70 % (grade A of ISO/IEC 15416, cited
//!   from memory) warning, under 40 % (grade C) error.
//!
//! The light that an ink leaves of 670 nm is computed as (1 − 0.95 C)(1 − 0.05 M)(1 − 0.02 Y)(1 − 0.95 K): an approximation
//! from memory. Spot inks are taken by their look. The rest is in the colour guides of the book trade, in general terms.
//!
//! ```kdl
//! swatches { swatch red m=100 y=100; }
//! panel back {
//!     barcode barcode { swatch red; right safe; bottom safe; scale 100 }
//! }
//! ```
//!
//! Way out: solid black bars on white.

use crate::check::bars::Bars;
use crate::check::code_inks::{flat_ground, ink_fault, too_little};
use crate::check::exam::Exam;
use crate::check::limit::{RuleLimit, in_percent};
use crate::check::rule::{CheckRule, RuleFindings, percent};
use crate::ground::{Process, Severity};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "bar-code-colour",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[GOOD, POOR],
    source: include_str!("bar_code_colour.rs"),
    run,
};

const ISO: &str = "ISO/IEC 15416, from memory";
const GOOD: RuleLimit = in_percent("warning", "less contrast than this at 670 nm is a warning", "70", ISO);
const POOR: RuleLimit = in_percent("error", "less contrast than this at 670 nm is an error", "40", ISO);
const HELP: &str = "print solid black bars on white";

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in &exam.elements {
        let Some(bars) = Bars::of(element) else {
            if element.is(Kind::BarCode) {
                findings.element(
                    Severity::Error,
                    element,
                    format!("the bars of {} print no ink", element.name()),
                    HELP,
                );
            }
            continue;
        };
        let fault = ink_fault(element, &bars.inks);
        if let Some(fault) = &fault {
            findings.element(Severity::Error, element, format!("the bars of {} {fault}", element.name()), HELP);
        }
        let zone = bars.with_quiet_zones();
        let Some(ground) = flat_ground(exam, element, zone) else {
            let message = format!("no flat colour lies under the bars of {}", element.name());
            findings.element(Severity::Error, element, message, "put a white ground under them");
            continue;
        };
        // Bars in a tint have little contrast too: that is one fault.
        if fault.is_some() {
            continue;
        }
        let contrast = bars.inks.iter().map(|ink| red(ground.look()) - red(ink.look())).fold(f64::INFINITY, f64::min);
        if let Some((severity, limit)) = too_little(contrast, findings, (POOR, GOOD)) {
            let message = format!(
                "a scanner sees {} of contrast in {}; it needs {}",
                percent(contrast.max(0.0)),
                element.name(),
                percent(findings.limit(&limit))
            );
            findings.element(severity, element, message, HELP);
            findings.measured(contrast.max(0.0), &limit);
        }
    }
}

/// The share of light of 670 nm that comes back.
fn red([c, m, y, k]: Process) -> f64 {
    (1.0 - 0.95 * c) * (1.0 - 0.05 * m) * (1.0 - 0.02 * y) * (1.0 - 0.95 * k)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::bars::trial::SampleBars;
    use crate::check::testing::{reported, reported_with};
    use crate::ground::Ink;

    fn worst(ink: Ink, ground: Option<Ink>, cover: &str) -> Option<Severity> {
        reported_with(&RULE, cover, SampleBars { ink, ground, ..SampleBars::default() }.items())
            .first()
            .map(|found| found.severity)
    }

    #[test]
    fn bars_that_a_scanner_does_not_see() {
        let white = || Some(Ink::PAPER);
        assert_eq!(worst(Ink::process(0.0, 1.0, 0.0, 0.0), white(), ""), Some(Severity::Error));
        assert_eq!(worst(Ink::process(0.6, 0.4, 0.4, 1.0), white(), ""), Some(Severity::Error));
        assert_eq!(worst(Ink::black(0.6), white(), ""), Some(Severity::Error));
        assert_eq!(worst(Ink::black(1.0), Some(Ink::process(0.3, 0.0, 0.0, 0.0)), ""), Some(Severity::Warning));
        assert_eq!(worst(Ink::black(1.0), Some(Ink::process(0.9, 0.0, 0.0, 0.0)), ""), Some(Severity::Error));
    }

    #[test]
    fn a_picture_under_the_bars() {
        let cover = "panel back { image a file=\"art/ink.tif\" { left bleed; right fold; top 100; bottom bleed; fit filling } }";
        assert_eq!(worst(Ink::black(1.0), None, cover), Some(Severity::Error));
        assert_eq!(worst(Ink::black(1.0), Some(Ink::PAPER), cover), None);
    }

    #[test]
    fn bars_of_bare_paper() {
        let cover = "book { title \"T\"; author \"A\"; pages 320; isbn \"978-1-83742-615-7\" }
panel back { barcode code { swatch unprinted; right safe; bottom safe } }";
        assert_eq!(reported(&RULE, cover).first().map(|found| found.severity), Some(Severity::Error));
    }

    #[test]
    fn dark_on_light_passes() {
        assert_eq!(worst(Ink::black(1.0), Some(Ink::PAPER), ""), None);
        assert_eq!(worst(Ink::process(1.0, 0.0, 0.0, 0.0), Some(Ink::PAPER), ""), None);
        assert_eq!(worst(Ink::black(1.0), Some(Ink::process(0.03, 0.04, 0.3, 0.0)), ""), None);
    }
}
