//! A spot ink that process inks show otherwise.
//!
//! Proofs, shops and everyone who opens the file on a screen see a spot ink in process inks. Oranges, violets and bright
//! blues of an ink book lie outside of what these reach: the approved proof is duller than the book, or the other way round.
//! And percentages typed in from another book than the ink's own show a colour that nobody has chosen.
//!
//! Asked of spot inks that state their colour, `lab=`, and are no finish.
//!
//! - the nearest process inks of the press profile miss the stated colour by a CIEDE2000 difference of
//!   more than 5: note.
//! - the process inks stated for pictures miss it by more than 5 beyond that: note.
//!
//! Common practice. Both are compared as measured on their paper (absolute colorimetric), for so ink books state them.
//!
//! ```kdl
//! swatches { spot coral ink="Coral 17" lab="66 70 58" }
//! panel front { band ground { swatch coral; left fold; right bleed; top bleed; bottom bleed } }
//! ```
//!
//! Way out: have a proof made with the ink itself, and say so to whoever approves the proof; or leave out `c= m= y= k=`, so
//! that pictures show the nearest.

use crate::assets::difference;
use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::{Colour, Severity, number};
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "spot-look",
    severity: Severity::Note,
    media: Media::Print,
    limits: &[FAR],
    source: include_str!("spot_look.rs"),
    run,
};

const FAR: RuleLimit =
    bare("difference", "a spot ink that is missed by more than this, in CIEDE2000, is a note", "5", PRACTICE).most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let far = findings.limit(&FAR);
    let profile = &exam.scene.profile;
    for (swatch, ink) in exam.facts().palette.iter() {
        let Colour::Spot(spot, _) = &ink.value.colour else { continue };
        let stated = exam.facts().palette.colour(swatch);
        let (None, Some(colour)) = (spot.finish, stated) else { continue };
        let (nearest, best) = profile.nearest(colour);
        let inks = |inks: [f64; 4]| {
            let [c, m, y, k] = inks.map(|ink| number((ink * 100.0).round()));
            format!("c={c} m={m} y={y} k={k}")
        };
        if best > far {
            let message = format!(
                "process inks do not reach {:?}: the nearest, {}, are ΔE00 {best:.1} away",
                spot.name,
                inks(nearest)
            );
            let help = "have a proof made with the ink itself; this one and every picture show another colour";
            findings.fact(Severity::Note, ink.span, message, help);
            findings.measured(best, &FAR);
            continue;
        }
        let shown = difference(colour, profile.measured_lab(spot.look));
        if shown - best > far {
            let message =
                format!("pictures show {:?} as {}, ΔE00 {shown:.1} from its stated colour", spot.name, inks(spot.look));
            findings.fact(Severity::Note, ink.span, message, format!("the nearest are {}", inks(nearest)));
            findings.measured(shown - best, &FAR);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn said(spot: &str) -> Vec<String> {
        let found = reported(&RULE, &format!("swatches {{ spot a ink=\"Ink 17\" {spot} }}"));
        found.into_iter().map(|finding| finding.message).collect()
    }

    #[test]
    fn what_process_inks_reach() {
        assert!(example(&RULE)[0].message.starts_with("process inks do not reach \"Coral 17\""));
        // The solids of coated paper as ISO 12647-2:2013 states them, on black backing and from memory: cyan 55, -36, -51.
        assert_eq!(said("lab=\"55 -36 -51\" c=100"), Vec::<String>::new());
        assert_eq!(said("lab=\"55 -36 -51\""), Vec::<String>::new(), "shown by the nearest");
        let other = said("lab=\"55 -36 -51\" m=100");
        assert!(other[0].starts_with("pictures show \"Ink 17\" as c=0 m=100 y=0 k=0"), "{other:?}");
        assert_eq!(said("m=100"), Vec::<String>::new(), "nothing is stated to compare with");
        assert_eq!(said("lab=\"66 70 58\" finishing=varnish"), Vec::<String>::new());
        let relaxed = "limit spot-look difference=40\nswatches { spot a lab=\"66 70 58\" }";
        assert_eq!(reported(&RULE, relaxed), []);
    }
}
