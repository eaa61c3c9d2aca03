//! A picture with colours that the press cannot print.
//!
//! Bright greens, oranges and blues of a screen have no ink. They are turned into the nearest ones, and look dull beside the
//! original.
//!
//! - of an RGB picture, more than 2 % of the pixels miss their colour by a CIEDE2000 difference of more than 5 in the inks
//!   that they are printed in: note. Common practice. 576 pixels, spread evenly, are measured. Dark ones, of which no
//!   channel reaches half its range, pass: the black of every press is lighter than that of a screen, and a picture is made
//!   to fit as a whole. Single swatches are `rgb-converted`.
//!
//! ```kdl
//! panel front { image neon file="art/neon.png" { left 40; width 20; top 60 } }
//! ```
//!
//! Way out: convert the picture yourself, with the printer's profile, and look at a proof; or a spot ink for what must shine.

use crate::assets::Model;
use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare, in_percent};
use crate::check::rule::{CheckRule, RuleFindings, percent};
use crate::ground::{Digest, Severity};
use crate::scene::{Media, PlacedPicture};
use std::collections::BTreeMap;

pub const RULE: CheckRule = CheckRule {
    name: "out-of-gamut",
    severity: Severity::Note,
    media: Media::Print,
    limits: &[FAR, SHARE],
    source: include_str!("out_of_gamut.rs"),
    run,
};

const STEPS: usize = 24;
const FAR: RuleLimit = bare("difference", "a colour is missed by more than this, in CIEDE2000", "5", PRACTICE).most();
const SHARE: RuleLimit = in_percent("share", "more missed pixels than this are a note", "2", PRACTICE).most();
/// A channel from which on a pixel is not dark.
const LIGHT: u8 = 128;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let (far, most) = (findings.limit(&FAR), findings.limit(&SHARE));
    let mut known: BTreeMap<Digest, f64> = BTreeMap::new();
    for element in &exam.elements {
        for (placed, _) in element.pictures().filter(|(placed, _)| is_asked(placed)) {
            let share = *known.entry(placed.picture.digest()).or_insert_with(|| missed(exam, placed, far));
            if share > most {
                let message = format!(
                    "{} of {:?} are colours that this press cannot print; they will look duller",
                    percent(share),
                    placed.picture.name()
                );
                let help = "look at a proof, or convert the picture yourself with the printer's profile";
                findings.element(Severity::Note, element, message, help);
                findings.measured(share, &SHARE);
            }
        }
    }
}

fn is_asked(placed: &PlacedPicture) -> bool {
    placed.picture.model() == Model::Rgb && placed.takes_press_inks() && !placed.picture.is_neutral()
}

/// The share of pixels that the print misses.
fn missed(exam: &Exam<'_>, placed: &PlacedPicture, far: f64) -> f64 {
    let (width, height) = (placed.picture.width() as usize, placed.picture.height() as usize);
    let pixels = placed.picture.pixels();
    let at = |step: usize, length: usize| (2 * step + 1) * length / (2 * STEPS);
    let places = (0..STEPS * STEPS).map(|place| at(place / STEPS, height) * width + at(place % STEPS, width));
    let seen = |place: &usize| pixels.alpha.as_ref().is_none_or(|alpha| alpha[*place] > 127);
    let mut colours: BTreeMap<[u8; 3], bool> = BTreeMap::new();
    let is_far = |place: usize| {
        let rgb = [0, 1, 2].map(|channel| pixels.samples[place * 3 + channel]);
        let is_light = rgb.iter().any(|channel| *channel >= LIGHT);
        is_light && *colours.entry(rgb).or_insert_with(|| exam.scene.profile.press_colour(rgb).1 > far)
    };
    places.filter(seen).map(is_far).filter(|far| *far).count() as f64 / (STEPS * STEPS) as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // tests/pictures/neon.png: a field of #00ff40, half of it grey.
    #[test]
    fn a_green_of_the_screen() {
        assert!(example(&RULE)[0].message.starts_with("50 % of"), "{:?}", example(&RULE));
        let grey = "panel front { image a file=\"art/small.jpg\" { left 40; width 20; top 60 } }";
        assert_eq!(reported(&RULE, grey), []);
    }
}
