//! A tint so light that its dots drop out, or so dark that they fill in.
//!
//! The lightest dots do not hold on the plate, and the gaps between the darkest close up. A ground of 2 % prints as paper in
//! one run and as a stain in the next; one of 98 % prints as solid.
//!
//! - a flat colour with an ink of up to 2 %, and no other ink of 10 % or more: note. An ink of 98 % or more, and not solid:
//!   note. Common practice.
//!
//! Pictures and drawings are not asked, nor gradients, which pass through such tints.
//!
//! ```kdl
//! swatches { swatch haze k=2; }
//! panel front { band ground { swatch haze; left fold -1.5; right bleed; top bleed; bottom bleed } }
//! ```
//!
//! Way out: 3 to 97 %, or the solid, or paper.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, in_percent};
use crate::check::rule::{CheckRule, RuleFindings, percent};
use crate::ground::{Colour, Ink, Severity};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "faint-tint",
    severity: Severity::Note,
    media: Media::Print,
    limits: &[LIGHT, DARK],
    source: include_str!("faint_tint.rs"),
    run,
};

const LIGHT: RuleLimit = in_percent("light", "an ink of so much or less is a note", "2", PRACTICE);
const DARK: RuleLimit =
    in_percent("dark", "an ink of so much or more, and not solid, is a note", "98", PRACTICE).most();
const SOLID: f64 = 0.999;
/// Beside an ink of so much, nobody sees whether a trace of another holds.
const COUNTS: f64 = 0.1;
const SLACK: f64 = 1e-6;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let (light, dark) = (findings.limit(&LIGHT), findings.limit(&DARK));
    for element in exam.elements.iter().filter(|element| matches!(element.origin.kind, Kind::Shape | Kind::Text)) {
        let mut worst = None;
        for shown in &element.marks {
            if let Some(crate::ground::Paint::Ink(ink)) = shown.item.paint() {
                worst = worst.or_else(|| lost(ink, light, dark));
            }
        }
        if let Some(share) = worst {
            let (does, limit) = if share <= light + SLACK { ("drop out", &LIGHT) } else { ("fill in", &DARK) };
            let message = format!(
                "{} prints a tint of {}, whose dots may {does}; the limit is {}",
                element.name(),
                percent(share),
                percent(findings.limit(limit))
            );
            findings.element(Severity::Note, element, message, "use 3 to 97 %, the solid, or paper");
            findings.measured(share, limit);
        }
    }
}

fn lost(ink: &Ink, least: f64, most: f64) -> Option<f64> {
    let shares = match &ink.colour {
        Colour::Process(inks) => inks.to_vec(),
        Colour::Spot(spot, _) if spot.finish.is_some() => return None,
        Colour::Spot(_, tint) => vec![*tint],
    };
    let light = |share: &f64| *share > 0.0 && *share <= least + SLACK;
    let all_light = shares.iter().all(|share| *share < COUNTS);
    let dark = shares.iter().copied().find(|share| *share >= most - SLACK && *share < SOLID);
    dark.or_else(|| shares.iter().copied().find(light).filter(|_| all_light && shares.iter().sum::<f64>() < 0.05))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn at_both_ends() {
        assert!(example(&RULE)[0].message.contains("a tint of 2 %, whose dots may drop out"));
        let of = |inks: &str| {
            let cover = format!(
                "swatches {{ swatch a {inks} }}\npanel front {{ band b {{ swatch a; left 10; width 20; top 10; height 20 }} }}"
            );
            reported(&RULE, &cover).len()
        };
        assert_eq!([of("k=1"), of("k=3"), of("k=98"), of("k=97"), of("k=100"), of("c=50 k=2")], [1, 0, 1, 0, 0, 0]);
    }
}
