//! Words with too little contrast to what is under them.
//!
//! Dark on dark and light on light look refined on a bright screen, and disappear in print, in the light of a shop, or in a
//! thumbnail.
//!
//! The contrast of luminances as WCAG 2 defines it (success criterion 1.4.3), in the colours that the press profile shows.
//! On one flat colour it is computed. Over pictures, several colours, gradients, in groups and under veils the sheet is
//! composed with the words and without them, and every letter is measured.
//!
//! - under 3 to 1: warning; for words of 18 pt and more, or bold ones of 14 pt, under 2. WCAG asks for 4.5 and 3 on
//!   screens; covers live with less, and these limits are ours.
//! - where letters are measured one by one: when two of them, and a tenth of all, are under the limit.
//!
//! An outline or a shadow sets letters off on a flat colour as their own ink does, and open letters are read by it. Letters
//! with an outline or a shadow over pictures, gradients or several colours are not measured.
//!
//! Foil and varnish shine as no ink does, and are left out; so are words under the same words, which are their shadow.
//!
//! ```kdl
//! panel front {
//!     band haze { swatch black percent=30; left fold -1.5; right bleed; top bleed; bottom bleed }
//!     text strap words="A novel of the sea" { size 11; swatch black percent=45; left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: a darker ink on a light ground, or a lighter one on a dark ground; or a calm ground under the words.

use crate::check::exam::Exam;
use crate::check::limit::{RuleLimit, bare};
use crate::check::proof::{LetterContrast, Patience, contrast, luminance};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::under::{Ground, overlap};
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{Ink, MM_PER_PT, Paint, Process, Severity};
use crate::scene::{Kind, Mark, Media};

pub const RULE: CheckRule = CheckRule {
    name: "low-contrast",
    severity: Severity::Warning,
    media: Media::Both,
    limits: &[SMALL, LARGE],
    source: include_str!("low_contrast.rs"),
    run,
};

const SMALL: RuleLimit = bare("small", "the least contrast of words, to 1", "3", OURS);
const LARGE: RuleLimit = bare("large", "the least contrast of large words, to 1", "2", OURS);
const OURS: &str = "ours; WCAG 2 asks for 4.5 and 3 on screens";
/// Weak letters that are reported: so many, and so great a share of all. Ours: a few weak letters are still read.
const WEAK: usize = 2;
const WEAK_SHARE: f64 = 0.1;
const HELP: &str = "choose a darker ink on a light ground, or a lighter one on a dark ground";

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let (mut patience, mut unasked) = (Patience::default(), Vec::new());
    for element in exam.of(Kind::Text).filter(|element| !exam.is_shadow(element)) {
        match flat(exam, element, findings) {
            Plainly::Weak(ratio, limit) => {
                let ratio = below(ratio, limit);
                let message = format!("{} has a contrast of {ratio} to 1; the limit is {limit}", element.name());
                findings.element(Severity::Warning, element, message, HELP);
            }
            Plainly::Fine => {}
            Plainly::Not if drawn_around(element).next().is_some() => {}
            Plainly::Not => match exam.letters(element, &mut patience) {
                Some(letters) => measured(&letters, element, findings),
                None => unasked.push(element),
            },
        }
    }
    if let Some(first) = unasked.first() {
        let (count, name, limit) = (unasked.len(), first.name(), Patience::LIMIT);
        let message = match count {
            1 => format!("the contrast of {name} was not looked at: {limit}"),
            _ => format!("the contrast of {count} texts was not looked at, {name} the first of them: {limit}"),
        };
        findings.element(
            Severity::Note,
            first,
            message,
            "let fewer elements lie under words, or place them as one picture",
        );
    }
}

/// A ratio under its limit, with as many decimals as tell the two apart.
fn below(ratio: f64, limit: f64) -> String {
    let shown = |decimals: usize| format!("{ratio:.decimals$}");
    let differs = |found: &String| found.parse::<f64>().is_ok_and(|found| found < limit);
    (1..=3).map(shown).find(differs).unwrap_or_else(|| format!("just under {limit}"))
}

/// How words stand out that stand plainly on flat colours.
enum Plainly {
    Fine,
    /// Their worst contrast, and its limit.
    Weak(f64, f64),
    /// They stand on something else.
    Not,
}

fn flat(exam: &Exam<'_>, element: &VisibleElement<'_>, findings: &RuleFindings) -> Plainly {
    let later = &exam.marks[element.range.end..];
    if later.iter().any(|mark| mark.item.origin.kind != Kind::Text && overlap(mark.bounds, element.bounds)) {
        return Plainly::Not;
    }
    let mut worst: Option<(f64, f64)> = None;
    for (run, shown) in element.runs().filter(|(run, _)| !run.text.trim().is_empty()) {
        let around = drawn_around(element).filter(|(ink, _)| !ink.is_finishing());
        let around: Vec<f64> = around.filter_map(|(ink, mark)| on_flat(exam, element, ink, mark)).collect();
        let best = around.iter().copied().max_by(f64::total_cmp);
        let limit = findings.limit(&limit_of(run.size, run.font.weight()));
        let ratio = match &run.paint {
            Paint::Ink(ink) if ink.is_finishing() => continue,
            Paint::Ink(ink) => on_flat(exam, element, ink, shown),
            // Open letters are read by what is drawn around them.
            Paint::None if best.is_some() => best,
            Paint::None => continue,
            Paint::Gradient(_) => None,
        };
        let Some(ratio) = ratio else { return Plainly::Not };
        let set_off = best.is_some_and(|best| best >= limit);
        if ratio < limit && !set_off && worst.is_none_or(|(known, _)| ratio < known) {
            worst = Some((ratio, limit));
        }
    }
    worst.map_or(Plainly::Fine, |(ratio, limit)| Plainly::Weak(ratio, limit))
}

/// An outline or a shadow sets letters off where their own ink does not.
fn drawn_around<'a>(element: &'a VisibleElement<'_>) -> impl Iterator<Item = (&'a Ink, &'a VisibleMark<'a>)> {
    element.marks.iter().filter_map(|mark| match &mark.item.mark {
        Mark::Stroke { paint: Paint::Ink(ink), .. } | Mark::Fill { paint: Paint::Ink(ink), .. } => Some((ink, mark)),
        _ => None,
    })
}

fn on_flat(exam: &Exam<'_>, element: &VisibleElement<'_>, ink: &Ink, shown: &VisibleMark<'_>) -> Option<f64> {
    let ground = exam.ground(element.range.start, shown.bounds);
    if shown.mixed || !matches!(ground, Ground::Paper | Ground::Flat(_)) {
        return None;
    }
    let under = exam.ground_inks(&ground, shown.bounds)?;
    let mut over = ink.look();
    if ink.overprints() {
        over.iter_mut().zip(under).for_each(|(ink, under)| *ink = ink.max(under));
    }
    Some(contrast(light(exam, over), light(exam, under)))
}

/// LetterContrast by letter, on the composed sheet.
fn measured(letters: &[LetterContrast], element: &VisibleElement<'_>, findings: &mut RuleFindings) {
    let limit = |letter: &LetterContrast| findings.limit(&limit_of(letter.size, letter.weight));
    let weak: Vec<&LetterContrast> = letters.iter().filter(|letter| letter.contrast < limit(letter)).collect();
    let worst = weak.iter().min_by(|a, b| a.contrast.total_cmp(&b.contrast));
    let Some(worst) = worst else { return };
    if weak.len() < WEAK.min(letters.len()) || (weak.len() as f64) < WEAK_SHARE * letters.len() as f64 {
        return;
    }
    let message = format!(
        "{} of the {} letters of {} have little contrast, {} to 1 at worst; the limit is {}",
        weak.len(),
        letters.len(),
        element.name(),
        below(worst.contrast, limit(worst)),
        limit(worst)
    );
    let place = weak.iter().map(|letter| letter.place).reduce(|a, b| a.union(b)).unwrap_or(element.bounds);
    findings.place(Severity::Warning, element.origin.span, place, message, HELP);
    findings.measured(worst.contrast, &limit_of(worst.size, worst.weight));
}

fn limit_of(size: f64, weight: u16) -> RuleLimit {
    let size = size / MM_PER_PT;
    if size >= 17.995 || (size >= 13.995 && weight >= 700) { LARGE } else { SMALL }
}

fn light(exam: &Exam<'_>, inks: Process) -> f64 {
    let bytes = inks.map(|ink| (ink * 255.0).round().clamp(0.0, 255.0) as u8);
    luminance(&exam.scene.profile.screen_pixels(&bytes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn messages(cover: &str) -> Vec<String> {
        reported(&RULE, cover).into_iter().map(|found| found.message).collect()
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
            text b words=\"The sea\" { size 11; swatch unprinted; left safe; right safe; top safe 80 }
        }";
        assert_eq!(reported(&RULE, cover), []);
    }

    // Black words, the right half of them on black.
    #[test]
    fn over_two_grounds() {
        let cover = |ground: &str| {
            format!(
                "panel front {{
                    band night {{ swatch black percent={ground}; left 40; width 60; top 30; height 30 }}
                    text a words=\"HHHHHHHHHHHH\" {{ size 14; left 26; width 60; top 40 }}
                }}"
            )
        };
        let found = messages(&cover("100"));
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].contains("of the 12 letters of `a` have little contrast, 1.0 to 1 at worst"), "{found:?}");
        assert_eq!(messages(&cover("20")), [""; 0]);
    }

    #[test]
    fn thinned_in_a_group_and_under_a_veil() {
        let thin = "panel front { text a words=\"The sea\" { size 14; opacity 15; left safe; right safe; top 40 } }";
        assert_eq!(messages(thin).len(), 1);
        assert_eq!(messages(&thin.replace("opacity 15", "opacity 90")), [""; 0]);
        let group = "panel front { group g { left 10; width 90; top 40; height 30; opacity 15
            text a words=\"The sea\" { size 14; left 0; right 0; top 0 } } }";
        assert_eq!(messages(group).len(), 1);
        let veil = |opacity: u32| {
            format!(
                "panel front {{ text a words=\"The sea\" {{ size 14; left safe; right safe; top 40 }}
                band veil {{ swatch unprinted; opacity {opacity}; left fold; right bleed; top 30; height 40 }} }}"
            )
        };
        assert_eq!(messages(&veil(85)).len(), 1);
        assert_eq!(messages(&veil(20)), [""; 0]);
    }

    #[test]
    fn outlines_set_letters_off_where_they_stand_out_themselves() {
        let cover = |words: &str| {
            let swatches = "swatches { swatch pale k=8; swatch night c=100 m=80 k=50 }";
            let text = format!("text a words=\"Salt\" {{ size 40; left safe; right safe; top 40; {words} }}");
            messages(&format!("{swatches}\npanel front {{ {text} }}")).len()
        };
        let all =
            ["swatch pale", "swatch pale; outline night", "swatch none; outline night", "swatch none; outline pale"];
        assert_eq!(all.map(cover), [1, 0, 0, 1]);
    }

    // White words, half of them on white paper; and a pale shadow of dark words, which nobody reads.
    #[test]
    fn white_half_over_white_and_a_shadow() {
        let cover = "panel front {
            band night { swatch black; left 0; width 45; top 30; height 30 }
            text a words=\"HHHHHHHHHHHH\" { size 14; swatch unprinted; left 26; width 60; top 40 }
        }";
        assert_eq!(messages(cover).len(), 1);
        let shadow = "panel front {
            text shade words=\"Lanterns\" { left 20; right 20; top 40.6; size 40; swatch black percent=20 }
            text title words=\"Lanterns\" { left 20; right 20; top 40; size 40 }
        }";
        assert_eq!(messages(shadow), [""; 0]);
    }
}
