//! Words on the spine too near to its folds.
//!
//! The spine's place on the book varies by up to 1.5 mm, depending on glue, paper and folding. Letters close to the fold
//! end up on the front or the back.
//!
//! - nearer than 1.5 mm (1/16 in) to a fold, by the ink of the letters, tails and accents too: error; on spines under 10 mm,
//!   1 mm. Common practice.
//!
//! ```kdl
//! panel spine {
//!     text spine-title words="{title}" { head safe 5; across fold 0.1; size 60 }
//! }
//! ```
//!
//! Way out: `across safe; vertical middle` with `size between 8 20` finds the largest size that keeps this distance. The search
//! counts the letters, not their outlines and shadows: with those, state a smaller size. Words are centred by their capitals
//! and small letters, so a tail or an accent comes nearest to a fold.
//! A greater distance that a printer asks for is written as such: `across fold 2`.

use crate::check::exam::{Exam, SheetSide};
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::cover::{THIN_SPINE, spine_clearance};
use crate::ground::{MM_PER_PT, Rect, Severity, number};
use crate::scene::{Media, PanelName};

pub const RULE: CheckRule = CheckRule {
    name: "spine-clearance",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[CLEAR, THIN],
    source: include_str!("spine_clearance.rs"),
    run,
};

const CLEAR: RuleLimit = in_mm("error", "words nearer to a fold of the spine are an error", "1.5", PRACTICE);
const THIN: RuleLimit = in_mm("thin", "the same on a spine under 10 mm", "1", PRACTICE);
/// Below what a rule of thumb can mean.
const SLACK: f64 = 0.05;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let Some(spine) = exam.sheet().panel(PanelName::Spine).map(|panel| panel.rect) else { return };
    let limit = if spine.width() < THIN_SPINE { THIN } else { CLEAR };
    let need = findings.limit(&limit);
    for element in exam.spine_words() {
        let (left, right) = (SheetSide::Left.gap(element.bounds, spine), SheetSide::Right.gap(element.bounds, spine));
        let gap = left.min(right);
        if gap >= need - SLACK {
            continue;
        }
        let name = element.name();
        let found =
            if gap < 0.0 { format!("{} over the fold", mm(-gap)) } else { format!("{} from the fold", mm(gap)) };
        let message =
            format!("{name} stands {found} of the spine, which is {} wide; it needs {}", mm(spine.width()), mm(need));
        // The safe area of a spine keeps the usual distance.
        let usual = need <= spine_clearance(spine.width());
        let across = if usual { "across safe".to_owned() } else { format!("across fold {}", number(need)) };
        let grouped = !exam.cover.elements.iter().any(|own| own.name.span == element.origin.span);
        let help = if grouped {
            "write a smaller `size` for these words, or move them in their group towards the middle of the spine"
                .to_owned()
        } else {
            way_out(element, spine, (need, gap), &across)
        };
        findings.element(Severity::Error, element, message, help);
        findings.measured(gap, &limit);
    }
}

/// Type smaller than this is no help. Common practice: the least size that is read at all.
const LEAST_SIZE: f64 = 5.0;
/// Sizes are written in quarters of a point.
const QUARTERS: f64 = 4.0;

/// Words that stand in the middle by their letters only have to be smaller; others may have room where they do not stand.
fn way_out(element: &VisibleElement<'_>, spine: Rect, (need, gap): (f64, f64), across: &str) -> String {
    let (half, middle) = (spine.width() / 2.0, element.origin.frame.center().x);
    if (middle - spine.center().x).abs() > SLACK {
        return format!("centre it by `{across}`; where it is still too near, set it smaller");
    }
    let set = element.runs().map(|(run, _)| run.size / MM_PER_PT).fold(0.0, f64::max);
    let size = (set * (half - need) / (half - gap) * QUARTERS).floor() / QUARTERS;
    if size < LEAST_SIZE {
        return format!(
            "this spine is too thin for these words: set them in fewer lines, with `{across}`, or take them off it"
        );
    }
    let range = between(size);
    format!("write `{across}; vertical middle; {range}`: the largest size that stands clear is found")
}

/// A range of sizes that ends with one.
fn between(most: f64) -> String {
    format!("size between {} {}", number((most / 2.0).floor().max(LEAST_SIZE)), number(most.ceil()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // The search of a size and this rule agree: before they did, 32 of 42 such spines were refused, by up to 0.98 mm.
    #[test]
    fn a_size_that_is_found_stands_clear() {
        for family in ["EB Garamond", "Playfair Display", "League Gothic", "Inter", "Amiri"] {
            for words in ["Gypsy Jigs", "Quay", "(jpg)", "Çelik, Jy", "salt", "SALT"] {
                for spine in ["15", "8"] {
                    let said = |size: &str| {
                        let text = format!("text a words=\"{words}\" {{ head safe 5; font \"{family}\"; {size} }}");
                        let paper = "trim 129 198; paper caliper=0.1; cover-stock caliper=0.2";
                        let cover = format!("format paperback {{ {paper}; spine {spine} }}\npanel spine {{ {text} }}");
                        reported(&RULE, &cover)
                    };
                    assert_eq!(said("size between 6 80"), [], "{family} {words} on {spine}");
                    // Without the search they would not stand clear.
                    assert_eq!(said("size 80").len(), 1, "{family} {words} on {spine}");
                }
            }
        }
    }

    // Whoever does what the message says is rid of it, wherever the words stood.
    #[test]
    fn the_way_out_that_it_names_stands_clear() {
        for words in ["Gypsy", "Ångström", "Quay"] {
            for stated in [
                "across safe",
                "across fold 0.1",
                "across safe; vertical head",
                "across fold 0.1; vertical head",
                "across fold 0.1; vertical foot",
            ] {
                let said = |stated: &str| {
                    let text = format!("text a words=\"{words}\" {{ head safe 5; {stated} }}");
                    reported(&RULE, &format!("panel spine {{ {text} }}"))
                };
                let first = said(&format!("{stated}; size 60"));
                let Some(first) = first.first() else { panic!("{words} {stated} stand clear at 60 pt") };
                let help = first.help.as_deref().expect("a way out");
                let written = help.split('`').nth(1).expect("what to write");
                assert_eq!(said(written), [], "{words} {stated}: {help}");
            }
        }
    }

    #[test]
    fn words_in_a_group_are_not_offered_a_place_that_it_does_not_give() {
        let group =
            "group g { left safe; right safe; top safe; height 60; text a words=\"Gypsy\" { left 0; top 0; size 70 } }";
        let said = reported(&RULE, &format!("panel spine {{ {group} }}"));
        let help = said[0].help.as_deref().expect("a way out");
        assert!(help.contains("in their group") && !help.contains("across"), "{help}");
    }

    #[test]
    fn letters_as_high_as_the_spine() {
        assert_eq!(example(&RULE).len(), 1);
    }

    #[test]
    fn a_sensible_size_passes() {
        assert_eq!(reported(&RULE, "panel spine { text spine-title words=\"{title}\" { head safe 5; size 18 } }"), []);
    }

    // 5.4 mm of spine: 9 pt stand, 1 mm from each fold; the same size would not on 4 mm of room with 1.5 mm each.
    #[test]
    fn thin_spines_are_allowed_a_millimetre() {
        let cover = |size: &str| {
            let format = "format paperback { trim 129 198; paper caliper=0.1; cover-stock caliper=0.2; spine 7 }\n";
            reported(&RULE, &format!("{format}panel spine {{ text a words=\"HELL\" {{ head safe 5; size {size} }} }}"))
                .len()
        };
        assert_eq!(cover("18"), 0);
        assert_eq!(cover("24"), 1);
    }
}
