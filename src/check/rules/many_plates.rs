//! More plates than a press prints in one run.
//!
//! A press has a printing unit for every plate. A sheet with more plates goes through twice, which costs another run, and its
//! colours register worse.
//!
//! - more than six plates of ink, process and spot together: warning. Common practice: presses for covers have four to six
//!   units, some more. Foil, varnish and embossing are made later and do not count.
//!
//! ```kdl
//! swatches {
//!     swatch deep c=90 m=70 y=40 k=60; spot a ink="Ink A" c=90; spot b ink="Ink B" m=90; spot d ink="Ink D" y=90
//! }
//! panel front {
//!     band deep { swatch deep; left 10; width 20; top 20; height 20 }
//!     band a { swatch a; left 40; width 10; top 20; height 20 }
//!     band b { swatch b; left 60; width 10; top 20; height 20 }
//!     band d { swatch d; left 80; width 10; top 20; height 20 }
//! }
//! ```
//!
//! Way out: print one of the spots in process inks, or make tints of one.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::{Colour, PROCESS_PLATES, Severity};
use crate::scene::{Mark, Media};
use std::collections::BTreeSet;

pub const RULE: CheckRule = CheckRule {
    name: "many-plates",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[UNITS],
    source: include_str!("many_plates.rs"),
    run,
};

const UNITS: RuleLimit = bare("units", "more plates of ink than this are a warning", "6", PRACTICE).most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let mut plates: BTreeSet<String> = BTreeSet::new();
    let mut add = |name: &str| {
        if !plates.contains(name) {
            plates.insert(name.to_owned());
        }
    };
    for mark in &exam.marks {
        if let Mark::Picture(placed) = &mark.item.mark
            && placed.takes_press_inks()
        {
            let plates = exam.scene.profile.picture_plates(&placed.picture, placed.separation);
            for plate in &plates {
                add(plate.name());
            }
        }
        mark.item.inks(&mut |ink| match &ink.colour {
            Colour::Process(inks) => {
                PROCESS_PLATES.iter().zip(inks).filter(|(_, ink)| **ink > 0.0).for_each(|(plate, _)| add(plate));
            }
            Colour::Spot(spot, tint) if spot.finish.is_none() && *tint > 0.0 => add(&spot.name),
            Colour::Spot(..) => {}
        });
    }
    let units = findings.limit(&UNITS);
    if plates.len() as f64 > units {
        let names: Vec<&str> = plates.iter().map(String::as_str).collect();
        let message = format!("the cover prints {} plates, {}; the press has {units}", plates.len(), names.join(", "));
        let help = "print one of the spots in process inks, or ask the printer for two runs";
        findings.fact(Severity::Warning, exam.facts().press.span, message, help);
        findings.measured(plates.len() as f64, &UNITS);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, example_text, reported};

    #[test]
    fn seven_plates() {
        let said = &example(&RULE)[0].message;
        assert!(
            said.starts_with("the cover prints 7 plates, Black, Cyan, Ink A, Ink B, Ink D, Magenta, Yellow;"),
            "{said}"
        );
        let six = example_text(RULE.source).expect("an example").replace("y=40 k=60", "k=60");
        assert_eq!(reported(&RULE, &six), []);
        let foil = example_text(RULE.source)
            .expect("an example")
            .replace("ink=\"Ink A\" c=90", "ink=\"Ink A\" c=90 finishing=foil");
        assert_eq!(reported(&RULE, &foil), []);
    }
}
