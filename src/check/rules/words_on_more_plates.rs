//! Words that print on other plates than the one that the house keeps for them.
//!
//! Where all words stand on one plate, only that plate has to be made again for an edition in another language. A house
//! states so by `press text-plate=black`, as a rule in its series. Without it, nothing is asked.
//!
//! - words in any other ink, in several, or in white, which is cut out of every plate: warning.
//! - words in that ink that knock out of the colour under them, and so leave their shape in the other plates: warning.
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
            let own = fault_of(ink, wanted);
            let knocks = || {
                let bare = matches!(exam.ground(element.range.start, shown.bounds), Ground::Paper);
                (!ink.overprint && !bare && !shown.multiplied).then(|| "knocks out of what lies under it".to_owned())
            };
            fault = fault.take().or(own).or_else(knocks);
        });
        if let Some(fault) = fault {
            let message = format!("{} {fault}; words stand on the {wanted} plate alone", element.name());
            let help = "print them in that ink, overprinting; or waive it for words that no edition translates";
            findings.element(Severity::Warning, element, message, help);
        }
    }
}

/// What keeps an ink off the one plate.
fn fault_of(ink: &Ink, wanted: &str) -> Option<String> {
    if ink.total() <= 0.0 {
        return Some("is white, so it is cut out of every plate".to_owned());
    }
    let others: Vec<&str> = match &ink.colour {
        Colour::Process(inks) => {
            let printed = PROCESS_PLATES.into_iter().zip(inks).filter(|(_, share)| **share > 0.0);
            printed.map(|(name, _)| name).filter(|name| *name != wanted).collect()
        }
        Colour::Spot(spot, _) => [spot.name.as_str()].into_iter().filter(|name| *name != wanted).collect(),
    };
    (!others.is_empty()).then(|| format!("prints on {}", others.join(", ")))
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
        let none = reported(&RULE, &cover("text-plate=gold", "swatch black"));
        assert!(none[0].message.starts_with("no plate is called \"gold\""), "{none:?}");
    }
}
