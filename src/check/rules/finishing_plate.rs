//! A foil, varnish or embossing plate with something that cannot be made.
//!
//! The finisher etches a die or cuts a stencil from this plate: a place is on it or not. A tint, a fading edge or pixels
//! of a photograph come out as ragged dots or are filled in.
//!
//! - a tint under 100 % in a finishing ink, a gradient of it, or a group that thins it: warning.
//! - a picture of pixels painted in it, with shades between: warning. Drawings are vectors, and pass.
//!
//! A white underprint is laid by the press, in tints as well, and passes. Common practice. Lines too thin for it are
//! `finishing-detail`.
//!
//! ```kdl
//! swatches { spot gold ink="Gold foil" c=20 m=30 y=70 finishing=foil; tint pale of=gold percent=40; }
//! panel front { band stripe { swatch pale; left 30; width 40; top 60; height 10 } }
//! ```
//!
//! Way out: the full ink, and a vector drawing for a picture.

use crate::check::exam::Exam;
use crate::check::limit::{OURS, RuleLimit, in_percent};
use crate::check::rule::{CheckRule, RuleFindings, percent};
use crate::check::visible::VisibleMark;
use crate::ground::{Colour, Finish, Ink, Paint, Severity};
use crate::scene::{Mark, Media};

pub const RULE: CheckRule = CheckRule {
    name: "finishing-plate",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[SHADES],
    source: include_str!("finishing_plate.rs"),
    run,
};

const SOLID: f64 = 0.999;
/// Beyond the steps of an edge.
const SHADES: RuleLimit =
    in_percent("shades", "a picture with more pixels that are neither on nor off is a warning", "10", OURS).most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let most = findings.limit(&SHADES);
    for element in &exam.elements {
        if let Some(fault) = element.marks.iter().find_map(|mark| fault(mark, most)) {
            let message = format!("{} {fault}, and a finishing plate is on or off", element.name());
            findings.element(Severity::Warning, element, message, "use the full ink, and vectors for pictures");
        }
    }
}

fn fault(mark: &VisibleMark<'_>, most: f64) -> Option<String> {
    let mut finishing = false;
    let mut thin = None;
    mark.item.inks(&mut |ink: &Ink| {
        if let Colour::Spot(spot, tint) = &ink.colour
            && spot.finish.is_some_and(|finish| finish != Finish::White)
        {
            finishing = true;
            thin = thin.or((*tint < SOLID).then_some(*tint));
        }
    });
    if !finishing {
        return None;
    }
    if matches!(mark.item.paint(), Some(Paint::Gradient(_))) {
        return Some("fades from one tint to another".to_owned());
    }
    if let Some(tint) = thin {
        return Some(format!("is a tint of {}", percent(tint)));
    }
    if mark.mixed {
        return Some("is thinned or mixed".to_owned());
    }
    match &mark.item.mark {
        Mark::Picture(placed) if shades(placed.picture.pixels()) > most => Some("is a picture with shades".to_owned()),
        _ => None,
    }
}

/// The share of pixels between nothing and solid.
fn shades(pixels: &crate::assets::Pixels) -> f64 {
    let samples = pixels.alpha.as_ref().unwrap_or(&pixels.samples);
    let between = samples.iter().filter(|sample| (25..230).contains(*sample)).count();
    between as f64 / samples.len().max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn on_or_off() {
        assert!(example(&RULE)[0].message.starts_with("`stripe` is a tint of 40 %"));
        let cover = |what: &str| {
            let spot = "swatches { spot gold ink=\"Gold foil\" c=20 m=30 y=70 finishing=foil; }";
            reported(&RULE, &format!("{spot}\npanel front {{ {what} }}")).len()
        };
        assert_eq!(cover("band a { swatch gold; left 30; width 40; top 60; height 10 }"), 0);
        assert_eq!(cover("band a { swatch gold; opacity 60; left 30; width 40; top 60; height 10 }"), 1);
        assert_eq!(cover("image a file=\"art/small.jpg\" { paint gold; left 30; width 40; top 60 }"), 1);
        assert_eq!(cover("image a file=\"art/line.tif\" { paint gold; left 30; width 40; top 60 }"), 0);
        let white = "swatches { spot under ink=\"White\" finishing=white }\npanel front { band a { gradient under none; \
                     left 30; width 40; top 60; height 10 }; band b { swatch under percent=50; left 30; width 40; top 80; height 10 } }";
        assert_eq!(reported(&RULE, white), [], "the press prints tints");
    }
}
