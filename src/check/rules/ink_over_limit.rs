//! More ink on one spot than the paper takes.
//!
//! Too much ink does not dry: sheets stick together, smear and mark each other in the pile, dark pictures fill in.
//!
//! - what a swatch states, at every use, as far as `opacity`, masks and what lies over it leave it, and what lies on one
//!   spot when all is printed together, pictures, overprint and mixing included, against the `ink-limit` of the press. Over
//!   it: warning; over it by more than 20 %: error.
//! - what is printed together is measured on the drawn sheet, averaged over squares of 1 mm, and reported from 15 mm² on
//!   and from 8 % over the limit. So black words may overprint the shadows of a photograph. Foil and varnish are no ink.
//!
//! The usual limits are 300 to 330 % on coated paper and 280 to 300 % on uncoated (a published article on ink coverage
//! for 300, 330 and the 8 %, the rest common practice); the window is common practice.
//!
//! ```kdl
//! swatches { swatch pitch c=90 m=80 y=80 k=95; }
//! panel front {
//!     band night { swatch pitch; left fold -1.5; right bleed; top bleed; bottom bleed }
//! }
//! ```
//!
//! Way out: a deep black of 60 40 40 100 needs no more than 240 %; convert pictures through the printer's own profile.

mod left_open;
mod own_ink;
mod printed_ink;

use crate::check::exam::Exam;
use crate::check::ink_sums::{InkSums, ROUNDING, TOLERANCE};
use crate::check::limit::{PRACTICE, RuleLimit, bare, in_percent};
use crate::check::patches::{InkPatch, patches};
use crate::check::rule::{CheckRule, RuleFindings, percent};
use crate::check::stated_ink::stated_ink;
use crate::check::under::overlap;
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{Ink, Rect, Severity};
use crate::scene::{Kind, Mark, Media};
use own_ink::own_ink;
use printed_ink::PrintedInk;
use std::borrow::Cow;

pub const RULE: CheckRule = CheckRule {
    name: "ink-over-limit",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[GROSS, AREA],
    source: include_str!("ink_over_limit.rs"),
    run,
};

const GROSS: RuleLimit =
    in_percent("error", "over the `ink-limit` of the press by more than this is an error", "20", PRACTICE).most();
const AREA: RuleLimit =
    bare("area", "square millimetres from which ink that lies together counts", "15", PRACTICE).most();

const HELP: &str = "thin the coloured inks and let black carry the depth: 60 40 40 100 is 240 %";

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let limit = InkLimit { most: exam.facts().press.ink_limit, gross: findings.limit(&GROSS) };
    let mut reported: Vec<(&VisibleElement<'_>, f64)> = Vec::new();
    let mut printed = PrintedInk::new(exam);
    for element in &exam.elements {
        let mut worst = 0.0_f64;
        element.inks(&mut |ink: &Ink, shown| {
            let most = ink.total() * shown.opacity;
            if most > worst.max(limit.most) {
                worst = worst.max(printed.most(shown, most, limit.most));
            }
        });
        if worst > limit.most + 1e-6 {
            let (found, most) = (percent(worst), percent(limit.most));
            let message = format!("{} is printed with {found} of ink; the limit is {most}", element.name());
            findings.element(limit.severity(worst), element, message, HELP);
            reported.push((element, worst));
        }
    }
    // Where no mark lies over another, none is thinned and none is a picture, all has been said.
    if exam.marks.len() > 1
        || exam.marks.iter().any(VisibleMark::is_thinned)
        || exam.elements.iter().any(|element| element.is(Kind::Picture))
    {
        composed(exam, limit, &reported, findings);
    }
}

/// The most that the press takes, and how far over it is an error.
#[derive(Clone, Copy)]
struct InkLimit {
    most: f64,
    gross: f64,
}

impl InkLimit {
    fn severity(self, worst: f64) -> Severity {
        if worst > self.most + self.gross + 1e-6 { Severity::Error } else { Severity::Warning }
    }
}

/// What lies on the sheet when all plates are printed, without what the ink of one element explains.
fn composed(exam: &Exam<'_>, limit: InkLimit, reported: &[(&VisibleElement<'_>, f64)], findings: &mut RuleFindings) {
    let Some(InkSums { area, pixel, width, total }) = exam.measured.map(|measured| &measured.sums) else { return };
    let (area, pixel, width) = (*area, *pixel, *width);
    let mut total = Cow::Borrowed(total);
    if !reported.is_empty() {
        let stated = stated_ink(exam, limit.most, reported);
        let explained =
            total.to_mut().iter_mut().zip(stated).filter(|(total, stated)| f64::from(*stated - **total) > -ROUNDING);
        explained.for_each(|(total, _)| *total = 0.0);
    }
    let limit_on_sheet = (limit.most + TOLERANCE + ROUNDING) as f32;
    let found = patches(total.iter().map(|ink| *ink > limit_on_sheet).collect(), width).into_iter();
    let size = |patch: &InkPatch| patch.pixels.len() as f64 * pixel * pixel;
    let worst = |patch: &InkPatch| patch.pixels.iter().map(|at| f64::from(total[*at])).fold(0.0, f64::max);
    let least = findings.limit(&AREA);
    let mut patches: Vec<(f64, InkPatch)> =
        found.filter(|patch| size(patch) >= least).map(|patch| (worst(&patch), patch)).collect();
    patches.sort_by_key(|(worst, patch)| std::cmp::Reverse((limit.severity(*worst), patch.pixels.len())));
    for (worst, patch) in patches.iter().take(MOST) {
        let place = patch.place(width, area, pixel);
        let message = format!(
            "{} of ink lie together on {:.0} mm²; the limit is {}",
            percent(*worst),
            size(patch),
            percent(limit.most)
        );
        let blamed = blame(exam, place);
        let own = blamed.map_or(0.0, |element| own_ink(exam, element, patch, limit.most));
        let help = if own > limit.most && (limit.most * 100.0).floor() >= LEAST_LIMIT {
            let most = (limit.most * 100.0).floor();
            Cow::Owned(format!(
                "write `limit-inks {most}` in the image: it looks nearly the same, with more black and less of the others"
            ))
        } else {
            Cow::Borrowed(HELP)
        };
        let span = blamed.map_or(exam.facts().press.span, |element| element.origin.span);
        findings.place(limit.severity(*worst), span, place, message, help);
    }
    if let Some((next, _)) = patches.get(MOST) {
        let more = patches.len() - MOST;
        let message = format!("{more} more places carry too much ink, up to {}", percent(*next));
        findings.fact(limit.severity(*next), exam.facts().press.span, message, HELP);
    }
}

/// The topmost picture there, or else the topmost element.
fn blame<'a>(exam: &'a Exam<'_>, place: Rect) -> Option<&'a VisibleElement<'a>> {
    let spot = place.center();
    let there =
        || exam.elements.iter().rev().filter(|element| element.bounds.contains(spot) || overlap(element.bounds, place));
    let picture = there().find(|element| element.marks.iter().any(|shown| matches!(shown.item.mark, Mark::Picture(_))));
    picture.or_else(|| there().next())
}

/// `limit-inks` takes no less.
const LEAST_LIMIT: f64 = 150.0;

/// Patches reported for one cover: errors first, then the largest.
const MOST: usize = 5;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_swatch_of_345_percent() {
        let stated = example(&RULE);
        assert_eq!(stated.len(), 1, "{stated:?}");
        assert_eq!(stated[0].message, "`night` is printed with 345 % of ink; the limit is 300 %");
        assert_eq!(stated[0].severity, Severity::Error);
    }

    // 345 % at half is 173 %.
    #[test]
    fn what_is_thinned_counts_as_it_prints() {
        let cover = |look: &str, around: &str| {
            format!(
                "swatches {{ swatch pitch c=90 m=80 y=80 k=95 }}
                panel front {{ group g {{ left 20; width 60; top 20; height 60; {around}
                    band a {{ swatch pitch; left 0; right 0; top 0; bottom 0; {look} }} }} }}"
            )
        };
        assert_eq!(reported(&RULE, &cover("opacity 50", "")), []);
        assert_eq!(reported(&RULE, &cover("", "opacity 50")), []);
        let thinned = reported(&RULE, &cover("opacity 97", ""));
        assert_eq!(thinned.len(), 1, "{thinned:?}");
        assert!(thinned[0].message.starts_with("`a` is printed with 335 % of ink"), "{thinned:?}");
        let multiplied = reported(&RULE, &cover("blend multiply", ""));
        assert!(multiplied[0].message.starts_with("`a` is printed with 345 %"), "{multiplied:?}");
    }

    // A band of three inks under one of black, mixed by multiplying: plates that only one of them uses keep its share.
    #[test]
    fn inks_that_meet_on_the_sheet() {
        let cover = |share: u32| {
            format!(
                "swatches {{ swatch a c={share} m={share} y={share}; swatch b k={share} }}
                panel front {{
                    band a {{ swatch a; left fold -1.5; right bleed; top bleed; height 60 }}
                    band b {{ swatch b; left 30; width 40; top 20; height 30; blend multiply }}
                }}"
            )
        };
        let stated = reported(&RULE, &cover(80));
        assert_eq!(stated.len(), 1, "{stated:?}");
        // 4 × 80 %, on 40 × 30 mm.
        assert!(stated[0].message.starts_with("320 % of ink lie together on 1"), "{}", stated[0].message);
        assert_eq!(reported(&RULE, &cover(74)), []);
    }

    // 301 % stated by a band, 355 % where another lies over it: neither hides the other.
    #[test]
    fn a_graver_patch_over_an_element_that_is_reported() {
        let cover = "swatches { swatch a c=100 m=101 y=100; swatch b k=54 }
            panel front {
                band a { swatch a; left fold -1.5; right bleed; top bleed; height 60 }
                band b { swatch b; left 30; width 40; top 20; height 30; blend multiply }
            }"
        .replace("m=101", "m=100 k=1");
        let stated = reported(&RULE, &cover);
        assert_eq!(stated.len(), 2, "{stated:?}");
        assert!(stated[0].message.starts_with("`a` is printed with 301 %"), "{}", stated[0].message);
        assert_eq!(stated[0].severity, Severity::Warning);
        assert_eq!(stated[1].severity, Severity::Error, "{}", stated[1].message);
        // 1 - (1 - 0.01)(1 - 0.54) is 54.5 % of black on 300 % of the others.
        assert!(
            stated[1].message.starts_with("354 %") || stated[1].message.starts_with("355 %"),
            "{}",
            stated[1].message
        );
    }

    // The frame of a moon is more than the moon: two inks that meet in its corner are not the moon's.
    #[test]
    fn a_patch_within_the_frame_of_an_element_that_is_reported() {
        let cover = "swatches { swatch pitch c=90 m=80 y=80 k=100; swatch a c=100 m=100 y=100; swatch b k=30 }
            panel front {
                band a { swatch a; left 20; width 12; top 20; height 12 }
                band b { swatch b; left 20; width 12; top 20; height 12; blend multiply }
                oval moon { swatch pitch; left 20; width 100; top 20; height 100 }
            }";
        let stated = reported(&RULE, cover);
        assert_eq!(stated.len(), 2, "{stated:?}");
        assert!(stated[1].message.starts_with("330 % of ink lie together"), "{}", stated[1].message);
    }

    // Black words make 307 % of 297, within the tolerance of 8, and 315 % of 295, beyond it.
    #[test]
    fn black_over_shadows_within_the_tolerance() {
        let cover = |shade: &str| {
            format!(
                "swatches {{ swatch shade {shade} }}
                panel front {{
                    band shade {{ swatch shade; left fold -1.5; right bleed; top bleed; height 60 }}
                    text title words=\"HHHHH\" {{ left 10; right 5; top 10; size 90; swatch black overprint=#true }}
                }}"
            )
        };
        assert_eq!(reported(&RULE, &cover("c=75 m=70 y=62 k=90")), []);
        assert!(!reported(&RULE, &cover("c=79 m=70 y=66 k=80")).is_empty());
    }

    // Six patches of 315 % and a smaller one of 380 %: the error comes first, and none goes unmentioned.
    #[test]
    fn small_errors_come_before_large_warnings() {
        let dark = |at: usize, size: usize, share: u32| {
            format!(
                "band n{at} {{ swatch k percent={share}; left {}; width {size}; top 30; height 10; blend multiply }}\n",
                5 + at * 15
            )
        };
        let bands: String = (0..6).map(|at| dark(at, 10, 15)).collect();
        let cover = format!(
            "swatches {{ swatch a c=100 m=100 y=100; swatch k k=100 }}
            panel front {{ band a {{ swatch a; left fold -1.5; right bleed; top bleed; height 60 }}
            {bands}{} }}",
            dark(6, 6, 80)
        );
        let stated = reported(&RULE, &cover);
        assert!(stated[0].message.starts_with("380 %"), "{stated:?}");
        assert_eq!(stated[0].severity, Severity::Error);
        assert_eq!(stated.last().map(|stated| &*stated.message), Some("2 more places carry too much ink, up to 315 %"));
    }
}
