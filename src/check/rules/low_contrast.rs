//! Words that hardly stand out from what they stand on.
//!
//! Dark on dark and light on light look refined on a bright screen, and are gone in print, in a shop's light, or as a
//! thumbnail in a list.
//!
//! The contrast of luminances as WCAG 2 defines it (success criterion 1.4.3), of the colours as the press profile shows
//! them; a measure here, not a rule of printing. Of a picture, the average under the words.
//!
//! - under 3 to 1: warning; for words of 18 pt and more, or bold ones of 14 pt, under 2. WCAG asks for 4.5 and 3 on
//!   screens; covers live with less, and these limits are ours.
//!
//! Foil and varnish shine as no ink does, and are not asked; nor are words on several things at once.
//!
//! ```kdl
//! panel front {
//!     band haze { swatch black percent=30; left fold -1.5; right bleed; top bleed; bottom bleed }
//!     text strap words="A novel of the sea" { size 11; swatch black percent=45; left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: a darker ink on a light ground, or a lighter one on a dark ground.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::{Colour, MM_PER_PT, Paint, Process, Severity};
use crate::scene::{GlyphRun, Kind};

pub const RULE: CheckRule =
    CheckRule { name: "low-contrast", severity: Severity::Warning, source: include_str!("low_contrast.rs"), run };

const SMALL: f64 = 3.0;
const LARGE: f64 = 2.0;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in exam.of(Kind::Text) {
        let mut worst: Option<(f64, f64)> = None;
        for (run, shown) in element.runs().filter(|(run, shown)| !shown.mixed && !run.text.trim().is_empty()) {
            let Paint::Ink(ink) = &run.paint else { continue };
            if matches!(&ink.colour, Colour::Spot(spot, _) if spot.finishing) {
                continue;
            }
            let ground = exam.ground(element.range.start, shown.bounds);
            let Some(under) = exam.ground_inks(&ground, shown.bounds) else { continue };
            let mut over = ink.look();
            if ink.overprint {
                over.iter_mut().zip(under).for_each(|(ink, under)| *ink = ink.max(under));
            }
            let ratio = contrast(luminance(exam, over), luminance(exam, under));
            let limit = if is_large(run) { LARGE } else { SMALL };
            if ratio < limit && worst.is_none_or(|(known, _)| ratio < known) {
                worst = Some((ratio, limit));
            }
        }
        if let Some((ratio, limit)) = worst {
            let ratio = below(ratio, limit);
            let message = format!("{} has a contrast of {ratio} to 1; the limit is {limit}", element.name());
            findings.element(
                Severity::Warning,
                element,
                message,
                "choose a darker ink on a light ground, or a lighter on a dark one",
            );
        }
    }
}

/// A ratio under its limit, with as many decimals as tell the two apart.
fn below(ratio: f64, limit: f64) -> String {
    let shown = |decimals: usize| format!("{ratio:.decimals$}");
    let differs = |said: &String| said.parse::<f64>().is_ok_and(|said| said < limit);
    (1..=3).map(shown).find(differs).unwrap_or_else(|| format!("just under {limit}"))
}

fn is_large(run: &GlyphRun) -> bool {
    let size = run.size / MM_PER_PT;
    size >= 17.995 || (size >= 13.995 && run.font.weight() >= 700)
}

/// Relative luminance of sRGB (WCAG 2).
fn luminance(exam: &Exam<'_>, inks: Process) -> f64 {
    let bytes = inks.map(|ink| (ink * 255.0).round().clamp(0.0, 255.0) as u8);
    let rgb = exam.scene.profile.screen_pixels(&bytes);
    rgb.iter().zip([0.2126, 0.7152, 0.0722]).map(|(sample, share)| share * linear(*sample)).sum()
}

fn linear(sample: u8) -> f64 {
    let share = f64::from(sample) / 255.0;
    if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
}

fn contrast(a: f64, b: f64) -> f64 {
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, told};

    // White on black 21 to 1, #767676 on white 4.54 (both published with WCAG 2).
    #[test]
    fn ratios_as_published() {
        assert!((contrast(1.0, 0.0) - 21.0).abs() < 1e-9);
        assert!((contrast(linear(0x76), 1.0) - 4.54).abs() < 0.005);
    }

    #[test]
    fn a_ratio_is_never_shown_as_its_limit() {
        for (ratio, shown) in [(1.44, "1.4"), (2.97, "2.97"), (2.9996, "just under 3"), (2.9987, "2.999")] {
            assert_eq!(below(ratio, 3.0), shown);
        }
    }

    #[test]
    fn grey_on_grey() {
        assert_eq!(example(&RULE)[0].severity, Severity::Warning);
    }

    #[test]
    fn black_on_paper_and_paper_on_black_pass() {
        let cover = "panel front {
            band night { swatch black; left fold -1.5; right bleed; top 60; bottom bleed }
            text a words=\"The sea\" { size 11; left safe; right safe; top safe }
            text b words=\"The sea\" { size 11; swatch paper; left safe; right safe; top safe 80 }
        }";
        assert_eq!(told(&RULE, cover), []);
    }
}
