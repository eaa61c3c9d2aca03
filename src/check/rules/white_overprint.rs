//! White that multiplies, and so vanishes, or that is asked to overprint, which it cannot.
//!
//! White is not an ink: it shows because what lies under it is left out. An element without ink that is multiplied with its
//! ground leaves out nothing and does not appear on paper, as white that overprints would not. The press file never lets
//! white overprint, whatever the cover says.
//!
//! - any ink of 0 % with `overprint`: warning. An entry of the Ghent Workgroup's 2015 specification (its headings).
//! - an element of no ink with `blend multiply`, by itself or in a group, of which nothing shows when the sheet is
//!   composed: error.
//!
//! ```kdl
//! panel front {
//!     band night { swatch black; left fold -1.5; right bleed; top bleed; bottom bleed }
//!     band window { swatch unprinted overprint=#true; left 40; width 20; top 40; height 20 }
//! }
//! ```
//!
//! Way out: take `overprint` or `blend multiply` away.

use crate::check::exam::Exam;
use crate::check::proof::Patience;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::{Ink, Severity};
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "white-overprint",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[],
    source: include_str!("white_overprint.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let mut patience = Patience::default();
    for element in &exam.elements {
        let (mut vanishes, mut multiplied, mut inked) = (false, false, false);
        element.inks(&mut |ink: &Ink, mark| {
            let white = ink.total() <= 0.0 && !ink.is_finishing();
            vanishes |= white && ink.overprint;
            multiplied |= white && mark.multiplied;
            inked |= !white;
        });
        if vanishes {
            let message =
                format!("{} has no ink, so it does not overprint: what lies under it is left out", element.name());
            findings.element(Severity::Warning, element, message, "take `overprint=#true` away");
        } else if multiplied && !inked && exam.shows(element, &mut patience) == Some(false) {
            let message = format!("{} has no ink and is multiplied: it will not be seen", element.name());
            findings.element(Severity::Error, element, message, "take `blend multiply` away");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_window_that_is_not_there() {
        assert_eq!(example(&RULE).len(), 1);
    }

    #[test]
    fn white_that_multiplies_to_nothing() {
        let cover = |inner: &str| {
            format!(
                "panel front {{
                    band night {{ swatch black; left fold -1.5; right bleed; top bleed; bottom bleed }}
                    group g {{ left 20; width 60; top 20; height 60; blend multiply; {inner} }}
                }}"
            )
        };
        let white = "band moon { swatch unprinted; left 10; width 20; top 10; height 20 }";
        assert_eq!(reported(&RULE, &cover(white)).len(), 1);
        let alone =
            "panel front { band moon { swatch unprinted; blend multiply; left 10; width 20; top 10; height 20 } }";
        assert_eq!(reported(&RULE, alone).len(), 1);
        // In the group it leaves out what lies under it there, and shows on paper.
        let shows = format!(
            "panel front {{ group g {{ left 20; width 60; top 20; height 60; blend multiply
            band sea {{ swatch black; left 0; right 0; top 0; bottom 0 }}; {white} }} }}"
        );
        assert_eq!(reported(&RULE, &shows), []);
    }

    #[test]
    fn white_that_knocks_out_and_black_that_overprints_pass() {
        let cover = "panel front {
            band night { swatch black overprint=#true; left fold -1.5; right bleed; top bleed; bottom bleed }
            band window { swatch unprinted; left 40; width 20; top 40; height 20 }
        }";
        assert_eq!(reported(&RULE, cover), []);
    }
}
