//! A soft edge or a shadow that ends in a straight line.
//!
//! A cut-out with a soft shadow must fade to nothing before its picture ends. Where the file was cropped too close, the shadow
//! stops at the edge of the file: on paper a faint straight line.
//!
//! - along one side of a picture with transparency, a tenth of the pixels or more neither clear (under 4 %) nor opaque (over
//!   96 %), and that side within the sheet: note. The limits are ours.
//!
//! ```kdl
//! panel front { image lamp file="art/soft.png" { left 40; width 40; top 60 } }
//! ```
//!
//! A side that is whole in the file and that the cover lets `fade` passes: it is meant.
//!
//! Way out: export the picture with more room around it, let it `fade` on that side too, or let that side run to `bleed`.

use crate::assets::AlphaSides;
use crate::check::exam::{Exam, SheetSide};
use crate::check::limit::{OURS, RuleLimit, in_percent};
use crate::check::rule::{CheckRule, RuleFindings, percent};
use crate::check::visible::VisibleMark;
use crate::ground::Severity;
use crate::scene::{Media, PlacedPicture};

pub const RULE: CheckRule = CheckRule {
    name: "soft-edge-cut",
    severity: Severity::Note,
    media: Media::Both,
    limits: &[SHARE],
    source: include_str!("soft_edge_cut.rs"),
    run,
};

const SHARE: RuleLimit = in_percent("share", "so many pixels of a side, still fading, are a note", "10", OURS).most();
const CLEAR: u8 = 10;
const OPAQUE: u8 = 245;
/// Millimetres that a side lies within the sheet and within its frame.
const WITHIN: f64 = 0.2;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let least = findings.limit(&SHARE);
    for element in &exam.elements {
        for (placed, shown) in element.pictures() {
            let cut = SheetSide::ALL.into_iter().filter(|side| shows(exam, placed, shown, *side));
            let cut = cut.filter_map(|side| Some((soft(placed, side)?, side))).filter(|(soft, _)| *soft >= least);
            if let Some((share, side)) = cut.max_by(|a, b| a.0.total_cmp(&b.0)) {
                let message = format!(
                    "{:?} ends at the {} while it is still fading, on {} of that side",
                    placed.picture.name(),
                    side.word(),
                    percent(share)
                );
                let help = "export it with more room around it, let it `fade` on that side too, or let that side run to `bleed`";
                findings.element(Severity::Note, element, message, help);
                findings.measured(share, &SHARE);
            }
        }
    }
}

/// Whether a side of the whole picture lies on the sheet and is not cut off by a frame.
fn shows(exam: &Exam<'_>, placed: &PlacedPicture, shown: &VisibleMark<'_>, side: SheetSide) -> bool {
    let whole = placed.bounds();
    side.gap(whole, exam.sheet().bleed) > WITHIN && side.gap(shown.bounds, whole) < WITHIN
}

/// The share of a side's pixels that are neither clear nor opaque; `None` for a picture that is turned, or has no holes.
fn soft(placed: &PlacedPicture, side: SheetSide) -> Option<f64> {
    let [a, b, c, d, ..] = placed.transform.as_coeffs();
    if a <= 0.0 || d <= 0.0 || b.abs() + c.abs() > 1e-9 {
        return None;
    }
    placed.picture.alpha()?;
    let along = |sides: &AlphaSides| {
        let along = match side {
            SheetSide::Head => &sides.head,
            SheetSide::Foot => &sides.foot,
            SheetSide::Left => &sides.left,
            SheetSide::Right => &sides.right,
        };
        along.clone()
    };
    // What the cover lets fade is as it should be: only what fades in the file was cut off.
    let (shown, unfaded) = (along(&placed.picture.sides()), along(&placed.picture.unfaded_sides()));
    let between = shown.iter().zip(&unfaded).filter(|(shown, own)| **shown >= CLEAR && (CLEAR..OPAQUE).contains(*own));
    Some(between.count() as f64 / shown.len().max(1) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // tests/pictures/soft.png fades from its left side to nothing at the others.
    #[test]
    fn a_shadow_cropped_too_close() {
        let said = example(&RULE);
        assert!(said.len() == 1 && said[0].message.contains("at the left"), "{said:?}");
        let off = "panel front { image lamp file=\"art/soft.png\" { left fold -250; width 260; top 60 } }";
        let cut = "panel front { group g { left 40; width 30; top 60; height 30; clip frame
            image lamp file=\"art/soft.png\" { left -20; width 60; top -20 } } }";
        let opaque = "panel front { image lamp file=\"art/small.jpg\" { left 40; width 40; top 60 } }";
        // Told to fade: its straight sides are those of the file. A soft side stays cut, unless the fade ends before it.
        let told =
            "panel front { image lamp file=\"art/small.jpg\" { left 40; width 40; top 60; fade bottom from=60 } }";
        let away = "panel front { image lamp file=\"art/soft.png\" { left 40; width 40; top 60; fade left to=90 } }";
        let still = "panel front { image lamp file=\"art/soft.png\" { left 40; width 40; top 60; fade right } }";
        assert_eq!(reported(&RULE, still).len(), 1);
        for cover in [off, cut, opaque, told, away] {
            assert_eq!(reported(&RULE, cover), [], "{cover}");
        }
    }
}
