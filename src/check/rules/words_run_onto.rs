//! Running text that grows until it runs onto something drawn before it.
//!
//! A blurb with one more sentence reaches the portrait or the box below it. Nothing hides the words, so they may still be
//! read, but half of them stand on one ground and half on another.
//!
//! - words of three lines or more, under 14 pt, of which some letters stand on an earlier picture, box or bar code and
//!   others do not, where the colour under them differs by 10 % of an ink or more: warning. Common practice.
//! - the colour under the words is measured on the sheet, composed without them.
//! - of the shapes and pictures under one text, the upper 40 are looked at.
//!
//! ```kdl
//! panel back {
//!     band box { swatch black percent=30; left 10; right 10; top 40; height 30 }
//!     text blurb words="A novel of the sea, of those who live on it and of those who wait on land for them to come home again, told over seven tides." {
//!         left safe; width 60; top 30; size 11
//!     }
//! }
//! ```
//!
//! Way out: say where the words end, `above box 4`, and let the size adjust, `size between 9 11`; or move the box.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare, in_percent, in_pt};
use crate::check::proof::Patience;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::under::{inside, overlap};
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{MM_PER_PT, Point, Process, Rect, Severity};
use crate::scene::{Kind, Mark, Media};
use std::cell::OnceCell;
use std::collections::BTreeSet;

pub const RULE: CheckRule = CheckRule {
    name: "words-run-onto",
    severity: Severity::Warning,
    media: Media::Both,
    limits: &[LINES, LARGEST, DIFFERENCE],
    source: include_str!("words_run_onto.rs"),
    run,
};

/// What makes running text.
const LINES: RuleLimit = bare("lines", "words of fewer lines pass", "3", PRACTICE).most();
const LARGEST: RuleLimit = in_pt("size", "words of this size or larger pass", "14", PRACTICE);
/// Letters that are no accident of a descender.
const LEAST: usize = 3;
/// A share of one ink that the eye takes for another colour.
const DIFFERENCE: RuleLimit =
    in_percent("difference", "grounds that differ by more of an ink than this are a warning", "10", PRACTICE).most();
/// Shapes and pictures under one text that are looked at, from the top down; what lies deeper shows no more.
const SHAPES_UNDER: usize = 40;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let mut patience = Patience::default();
    let (lines, largest, difference) = (findings.limit(&LINES), findings.limit(&LARGEST), findings.limit(&DIFFERENCE));
    for (at, element) in exam.elements.iter().enumerate().filter(|(_, element)| is_running(element, lines, largest)) {
        let letters: Vec<Rect> = element.runs().flat_map(|(run, _)| run.boxes()).collect();
        let grounds: OnceCell<Vec<Option<Process>>> = OnceCell::new();
        let shapes = exam.elements[..at].iter().rev().filter(|earlier| !earlier.is(Kind::Text));
        for earlier in shapes.filter(|earlier| overlap(earlier.bounds, element.bounds)).take(SHAPES_UNDER) {
            let on = |letter: &Rect| earlier.marks.iter().any(|mark| reaches(mark, letter.center()));
            let on: Vec<bool> = letters.iter().map(on).collect();
            let over = on.iter().filter(|on| **on).count();
            if over < LEAST || letters.len() - over < LEAST {
                continue;
            }
            let grounds = grounds.get_or_init(|| exam.under_letters(element, &letters, &mut patience));
            let under = |wanted: bool| average(on.iter().zip(grounds).filter(|(on, _)| **on == wanted));
            let differs = match (under(true), under(false)) {
                (Some(a), Some(b)) => a.iter().zip(b).any(|(a, b)| (a - b).abs() > difference),
                _ => false,
            };
            if differs {
                let message = format!(
                    "{} runs onto {}: {} of its {} letters stand on it",
                    element.name(),
                    earlier.name(),
                    over,
                    letters.len()
                );
                let help =
                    format!("end the words before it, `above {} 4`, or move one of the two", earlier.origin.element);
                findings.element(Severity::Warning, element, message, help);
            }
        }
    }
}

fn is_running(element: &VisibleElement<'_>, lines: f64, largest: f64) -> bool {
    let small = element.runs().all(|(run, _)| run.size / MM_PER_PT < largest);
    // Runs on one baseline are at one distance from it.
    let baselines: BTreeSet<i64> = element
        .runs()
        .map(|(run, _)| {
            let [a, b, .., x, y] = run.transform.as_coeffs();
            ((a * y - b * x) * 10.0).round() as i64
        })
        .collect();
    element.is(Kind::Text) && small && baselines.len() as f64 >= lines
}

fn reaches(mark: &VisibleMark<'_>, point: Point) -> bool {
    mark.bounds.contains(point)
        && match &mark.item.mark {
            Mark::Fill { path, rule, .. } => inside(path, *rule, point),
            Mark::Picture(_) => true,
            _ => false,
        }
}

fn average<'a>(grounds: impl Iterator<Item = (&'a bool, &'a Option<Process>)>) -> Option<Process> {
    let (mut sum, mut count) = ([0.0; 4], 0.0);
    for inks in grounds.filter_map(|(_, inks)| *inks) {
        sum.iter_mut().zip(inks).for_each(|(sum, ink)| *sum += ink);
        count += 1.0;
    }
    (count > 0.0).then(|| sum.map(|sum| sum / count))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_blurb_that_grew() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].message.starts_with("`blurb` runs onto `box`: "), "{found:?}");
    }

    #[test]
    fn what_lies_under_forty_others_is_not_looked_at() {
        let cover = |between: usize| {
            let dot = |at| format!("band b{at} {{ swatch black; left 21; width 0.02; top 38; height 0.02 }}\n");
            let dots: String = (0..between).map(dot).collect();
            format!(
                "panel back {{ band box {{ swatch black percent=30; left 2; right 2; top 36; height 20 }}
                {dots} text a words=\"One two three four five six seven eight nine ten eleven twelve thirteen\" {{
                    left safe; width 40; top 30; size 11 }} }}"
            )
        };
        assert_eq!(reported(&RULE, &cover(SHAPES_UNDER - 1)).len(), 1);
        assert_eq!(reported(&RULE, &cover(SHAPES_UNDER)), []);
    }

    #[test]
    fn words_on_one_ground_pass() {
        let cover = |top: u32, height: u32| {
            format!(
                "panel back {{ band box {{ swatch black percent=30; left 2; right 2; top {top}; height {height} }}
                text a words=\"One two three four five six seven eight nine ten eleven twelve thirteen\" {{
                    left safe; width 40; top 30; size 11 }} }}"
            )
        };
        assert_eq!(reported(&RULE, &cover(20, 60)), []);
        assert_eq!(reported(&RULE, &cover(80, 20)), []);
        assert_eq!(reported(&RULE, &cover(36, 20)).len(), 1);
        // The title of a cover plays with its picture.
        let title = cover(36, 20).replace("size 11", "size 20");
        assert_eq!(reported(&RULE, &title), []);
    }

    // The edge of an earlier photograph, in a round frame and thinned: seen as it is composed.
    #[test]
    fn over_the_edge_of_a_thinned_photograph() {
        let cover = |opacity: u32| {
            format!(
                "panel back {{ group g {{ left 2; right 2; top 36; height 40; opacity {opacity}
                    band photo {{ swatch black; left 0; right 0; top 0; bottom 0 }} }}
                text a words=\"One two three four five six seven eight nine ten eleven twelve thirteen\" {{
                    left safe; width 40; top 30; size 11 }} }}"
            )
        };
        assert_eq!(reported(&RULE, &cover(40)).len(), 1);
        assert_eq!(reported(&RULE, &cover(5)), []);
    }
}
