//! Words that print on other plates than the one that the house keeps for them.
//!
//! Where all words stand on one plate, only that plate has to be made again for an edition in another language. A house
//! states so by `press text-plate=black`, as a rule in its series. Without it, nothing is asked.
//!
//! - words in any other ink, or in several: warning.
//! - words in white, or in that ink, that knock out of the colour under them and so leave their shape in other plates: warning.
//!
//! Common practice of co-editions. `jaconet compare` says which plates an edition changes.
//!
//! ```kdl
//! press coated text-plate=black
//! swatches { swatch red m=90 y=80; }
//! panel front { text title words="{title}" { swatch red; left safe; right safe; top 40; size 30 } }
//! ```
//!
//! Way out: solid black, which overprints by itself; or `waive` for words that no edition translates.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::under::Ground;
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{Colour, Ink, PROCESS_PLATES, Severity};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "words-on-more-plates",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[],
    source: include_str!("words_on_more_plates.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let Some(plate) = exam.facts().press.text_plate.as_ref() else { return };
    let spots = exam.scene.spots();
    let known = PROCESS_PLATES.into_iter().chain(spots.iter().map(|spot| spot.name.as_str()));
    let Some(wanted) = known.into_iter().find(|name| name.eq_ignore_ascii_case(&plate.value)) else {
        let message = format!("no plate is called {:?}, so no words can stand on it", plate.value);
        let help = "name cyan, magenta, yellow, black or the ink of a spot that this cover prints";
        return findings.fact(Severity::Warning, plate.span, message, help);
    };
    for element in exam.of(Kind::Text) {
        let mut fault = None;
        element.inks(&mut |ink, shown| {
            if fault.is_none() {
                fault = fault_of(exam, element, (ink, shown), wanted);
            }
        });
        if let Some(fault) = fault {
            let message = format!("{} {fault}; words stand on the {wanted} plate alone", element.name());
            let help = "print them in that ink, overprinting; or waive it for words that no edition translates";
            findings.element(Severity::Warning, element, message, help);
        }
    }
}

/// What puts a mark of words on other plates than the one.
fn fault_of(
    exam: &Exam<'_>,
    element: &VisibleElement<'_>,
    (ink, shown): (&Ink, &VisibleMark<'_>),
    wanted: &str,
) -> Option<String> {
    let others = self::others(ink, wanted);
    if !others.is_empty() {
        return Some(format!("prints on {}", others.join(", ")));
    }
    let is_white = ink.total() <= 0.0;
    if !is_white && (ink.overprint || shown.multiplied) {
        return None;
    }
    match exam.ground(element.range.start, shown.bounds) {
        // What it is cut out of is nothing, or that plate, which is made again anyway.
        Ground::Paper => None,
        Ground::Flat(under) if self::others(under, wanted).is_empty() => None,
        _ if is_white => Some("is white, so it is cut out of every plate under it".to_owned()),
        _ => Some("knocks out of what lies under it".to_owned()),
    }
}

/// The other plates that an ink prints on.
fn others<'a>(ink: &'a Ink, wanted: &str) -> Vec<&'a str> {
    match &ink.colour {
        Colour::Process(inks) => {
            let printed = PROCESS_PLATES.into_iter().zip(inks).filter(|(_, share)| **share > 0.0);
            printed.map(|(name, _)| name).filter(|name| *name != wanted).collect()
        }
        Colour::Spot(spot, _) => [spot.name.as_str()].into_iter().filter(|name| *name != wanted).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn red_words_are_not_on_the_black_plate() {
        let stated = example(&RULE);
        assert_eq!(stated.len(), 1, "{stated:?}");
        assert_eq!(stated[0].message, "`title` prints on Magenta, Yellow; words stand on the Black plate alone");
    }

    #[test]
    fn black_words_pass_and_white_or_cut_out_ones_do_not() {
        let cover = |press: &str, text: &str| {
            format!(
                "press coated {press}
                swatches {{ swatch sea c=40 m=10 }}
                panel front {{
                    band sea {{ swatch sea; left fold; right bleed; top bleed; bottom bleed }}
                    text title words=\"Sea\" {{ size 30; left safe; right safe; top 40; {text} }}
                }}"
            )
        };
        assert_eq!(reported(&RULE, &cover("text-plate=black", "swatch black")), []);
        assert_eq!(reported(&RULE, &cover("", "swatch unprinted")), [], "nobody asked");
        let white = reported(&RULE, &cover("text-plate=Black", "swatch unprinted"));
        assert!(white[0].message.contains("cut out of every plate"), "{white:?}");
        let out = reported(&RULE, &cover("text-plate=black", "swatch black overprint=#false"));
        assert!(out[0].message.contains("knocks out"), "{out:?}");
        // Cut out of the black plate alone.
        let on_black = |ink: &str| {
            let words = format!("text title words=\"Sea\" {{ size 30; left safe; right safe; top 40; swatch {ink} }}");
            let band = "band night { swatch black; left fold; right bleed; top bleed; bottom bleed }";
            reported(&RULE, &format!("press coated text-plate=black\npanel front {{\n{band}\n{words}\n}}"))
        };
        assert_eq!([on_black("unprinted"), on_black("black overprint=#false")], [vec![], vec![]]);
        let none = reported(&RULE, &cover("text-plate=gold", "swatch black"));
        assert!(none[0].message.starts_with("no plate is called \"gold\""), "{none:?}");
    }
}
