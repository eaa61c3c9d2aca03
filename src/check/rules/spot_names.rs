//! Two spellings of one spot ink, or a name that presses read as one of their own.
//!
//! Every spelling becomes a plate of its own. Two plates where one was meant cost an extra plate and an extra press run,
//! or a phone call on the day of printing.
//!
//! - two plates whose names differ in capitals, blanks or signs alone: error. Names that differ in the ending for a kind of
//!   paper (C, U, M) after a number: warning; both may be intended, but rarely are. An entry of the Ghent Workgroup's 2015
//!   specification (its headings).
//! - a spot ink called `Registration` or `Process Black`, as other programs call all plates and the process inks: warning.
//!   Common practice.
//!
//! ```kdl
//! swatches {
//!     spot foil ink="Gold foil" c=20 m=30 y=70
//!     spot stamp ink="Gold Foil" c=20 m=30 y=70
//! }
//! panel front {
//!     band a { swatch foil; left 20; width 20; top 20; height 20 }
//!     band b { swatch stamp; left 60; width 20; top 20; height 20 }
//! }
//! ```
//!
//! Way out: state the ink once and make tints of it: `tint pale of=foil percent=40`.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::{Colour, PROCESS_PLATES, Severity};
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "spot-names",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[],
    source: include_str!("spot_names.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let spots = exam.facts().palette.iter().filter_map(|(_, ink)| match &ink.value.colour {
        Colour::Spot(spot, _) => Some((spot.name.as_str(), ink.span)),
        Colour::Process(_) => None,
    });
    let mut spots: Vec<_> = spots.collect();
    spots.sort_by_key(|(_, span)| *span);
    for (at, (name, span)) in spots.iter().enumerate() {
        if let Some(meant) = read_as(name) {
            let message = format!("presses may read the plate {name:?} as {meant}");
            findings.fact(Severity::Warning, *span, message, "give the spot ink a name of its own");
        }
        let twins = spots[..at].iter().filter_map(|(other, _)| alike(name, other).map(|severity| (*other, severity)));
        let twin = twins.max_by_key(|(_, severity)| *severity);
        if let Some((other, severity)) = twin {
            let message = format!("the plates {other:?} and {name:?} seem to be one ink");
            findings.fact(severity, *span, message, "spell the ink one way, and make tints of one swatch");
        }
    }
}

/// What a press takes a name for.
fn read_as(name: &str) -> Option<String> {
    let name = name.to_lowercase();
    if name == "registration" {
        return Some("all plates at once".to_owned());
    }
    let ink = name.strip_prefix("process ")?;
    PROCESS_PLATES.into_iter().find(|plate| plate.eq_ignore_ascii_case(ink)).map(|plate| format!("its own {plate}"))
}

fn alike(a: &str, b: &str) -> Option<Severity> {
    let plain =
        |name: &str| name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect::<String>();
    let (a_plain, b_plain) = (plain(a), plain(b));
    if a == b {
        return None;
    }
    if a_plain == b_plain {
        return Some(Severity::Error);
    }
    let base = |name: &str| {
        let kind = name.trim_end_matches(['c', 'u', 'm']);
        kind.ends_with(|c: char| c.is_ascii_digit()).then(|| kind.to_owned())
    };
    (base(&a_plain).is_some() && base(&a_plain) == base(&b_plain)).then_some(Severity::Warning)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn capitals_and_papers() {
        assert_eq!(example(&RULE).len(), 1);
        assert_eq!(alike("Warm red 032 C", "Warm Red 032 U"), Some(Severity::Warning));
        assert_eq!(alike("Ink-12", "ink 12"), Some(Severity::Error));
    }

    #[test]
    fn a_likely_twin_does_not_hide_a_certain_one() {
        let cover =
            "swatches { spot a ink=\"Red 32 C\" c=20; spot b ink=\"Red 32 U\" c=20; spot d ink=\"red 32 u\" c=20 }
            panel front { band a { swatch a; left 20; width 20; top 20; height 20 }
                          band b { swatch b; left 20; width 20; top 20; height 20 }
                          band d { swatch d; left 20; width 20; top 20; height 20 } }";
        let severities: Vec<Severity> = reported(&RULE, cover).iter().map(|found| found.severity).collect();
        assert_eq!(severities, [Severity::Warning, Severity::Error]);
    }

    #[test]
    fn names_that_presses_read_as_their_own() {
        let said = |ink: &str| {
            let found = reported(&RULE, &format!("swatches {{ spot a ink={ink:?} c=20 }}"));
            found.into_iter().map(|found| (found.severity, found.message)).collect::<Vec<_>>()
        };
        let warned = |message: &str| vec![(Severity::Warning, message.to_owned())];
        assert_eq!(said("Registration"), warned("presses may read the plate \"Registration\" as all plates at once"));
        assert_eq!(said("process  black"), warned("presses may read the plate \"process black\" as its own Black"));
        assert_eq!(said("Process red"), []);
        assert_eq!(said("Registration blue"), []);
    }

    #[test]
    fn different_inks_and_tints_pass() {
        assert_eq!(alike("Ink 12", "Ink 13"), None);
        let cover = "swatches { spot foil ink=\"Gold foil\" c=20; spot varnish ink=\"Spot varnish\" c=10; tint pale of=foil percent=40; }";
        assert_eq!(reported(&RULE, cover), []);
    }
}
