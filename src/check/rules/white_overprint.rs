//! White that is told to overprint, and so vanishes.
//!
//! White is no ink: it shows because what lies under it is left out. An element without ink that overprints leaves out
//! nothing, and on paper it is not there. Screens often show it all the same.
//!
//! - any ink of 0 % with `overprint`: error. An entry of the Ghent Workgroup's 2015 specification (its headings).
//!
//! ```kdl
//! panel front {
//!     band night { swatch black; left fold -1.5; right bleed; top bleed; bottom bleed }
//!     band window { swatch paper overprint=#true; left 40; width 20; top 40; height 20 }
//! }
//! ```
//!
//! Way out: take the `overprint` away.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::{Colour, Ink, Severity};

pub const RULE: CheckRule =
    CheckRule { name: "white-overprint", severity: Severity::Error, source: include_str!("white_overprint.rs"), run };

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in &exam.elements {
        let mut vanishes = false;
        element.inks(&mut |ink: &Ink, _| vanishes |= ink.overprint && ink.total() <= 0.0 && !is_finishing(ink));
        if vanishes {
            let message = format!("{} has no ink and overprints: it will not be seen", element.name());
            findings.element(Severity::Error, element, message, "take `overprint=#true` away");
        }
    }
}

fn is_finishing(ink: &Ink) -> bool {
    matches!(&ink.colour, Colour::Spot(spot, _) if spot.finishing)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, told};

    #[test]
    fn a_window_that_is_not_there() {
        assert_eq!(example(&RULE).len(), 1);
    }

    #[test]
    fn white_that_knocks_out_and_black_that_overprints_pass() {
        let cover = "panel front {
            band night { swatch black overprint=#true; left fold -1.5; right bleed; top bleed; bottom bleed }
            band window { swatch paper; left 40; width 20; top 40; height 20 }
        }";
        assert_eq!(told(&RULE, cover), []);
    }
}
