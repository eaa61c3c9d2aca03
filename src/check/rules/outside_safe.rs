//! Words, bar codes and emblems too close to where the sheet is cut.
//!
//! A guillotine cuts a pile, and the pile moves: a sheet may be cut a millimetre beside its marks. Whatever is close to
//! the trim then looks crooked or is cut into.
//!
//! Measured from the ink of the letters, not from the frame of a text, to the trim; on a case to the edge of the boards.
//! Pictures and drawings count when they
//! do not reach the bleed. Bar codes need 3 mm here, and more for `bar-code-place`. A quotation mark or hyphen that hangs
//! out of its frame may stand outside `safe`. For folds see `on-fold` and `spine-clearance`.
//!
//! - nearer than 3 mm: error. Nearer than the cover's own `safe`: warning. Common practice: at least 3 mm, usually
//!   5 to 6 mm, for a cutting tolerance of ±1 mm.
//!
//! ```kdl
//! panel back {
//!     text author words="{author}" { left trim 2; right safe; top safe 20 }
//! }
//! ```
//!
//! Way out: move it inwards, `left safe` for `left trim 2`; or let a picture run off the sheet, to `bleed`. A letter as large as
//! the page that is meant to be cut says so: `waive outside-safe reason="the initial runs off the sheet"`.

use crate::check::bars::Bars;
use crate::check::exam::{Exam, SheetSide};
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "outside-safe",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[NEAREST],
    source: include_str!("outside_safe.rs"),
    run,
};

const NEAREST: RuleLimit =
    in_mm("error", "nearer to the trim than this is an error; a warning is given inside `safe`", "3", PRACTICE);
/// What stands further out was not placed a little wrong: its size or its place was meant otherwise.
const NUDGE: f64 = 15.0;
/// What words may stand over a guide by: a round letter overshoots, a serif leans out.
const OVERSHOOT: f64 = 0.4;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let trim = exam.sheet().trim;
    let safe = exam.facts().format.safe;
    let least = findings.limit(&NEAREST);
    for element in exam.elements.iter().filter(|element| exam.is_live(element)) {
        let bars = Bars::of(element);
        let bounds = bars.as_ref().map_or(element.bounds, |bars| bars.symbol(element));
        // A sign that hangs out of its frame may stand outside `safe`, but not where it is cut.
        let body = if bars.is_some() { bounds } else { element.body() };
        let gaps = SheetSide::ALL.map(|side| (side.gap(bounds, trim), side.gap(body, trim), side));
        let judged = gaps.into_iter().filter_map(|(gap, body, side)| {
            if gap < least - 0.005 {
                Some((Severity::Error, gap, side))
            } else {
                (body < safe - OVERSHOOT && bars.is_none()).then_some((Severity::Warning, body, side))
            }
        });
        let Some((severity, gap, side)) = judged.max_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1))) else {
            continue;
        };
        let threshold = if severity == Severity::Error { least } else { safe };
        let edge = if exam.facts().format.binding == crate::cover::Binding::Case { "board's edge" } else { "trim" };
        let place = if gap.abs() < 0.005 {
            format!("at the {edge}")
        } else if gap < 0.0 {
            format!("{} over the {edge}", mm(-gap))
        } else {
            format!("{} from the {edge}", mm(gap))
        };
        let message = format!("{} stands {place}, {}; it needs {}", element.name(), side.word(), mm(threshold));
        let help = if threshold - gap > NUDGE {
            "it runs off its panel: give it less width or height, shorten its words, or measure its place from another edge; \
             where it is meant to be cut, write `waive outside-safe reason=\"…\"` in it"
                .to_owned()
        } else {
            format!("move it {} inwards", mm(threshold - gap))
        };
        findings.element(severity, element, message, help);
        if severity == Severity::Error {
            findings.measured(gap, &NEAREST);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn words_two_millimetres_from_the_trim() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].severity, Severity::Error);
        assert!(found[0].message.contains(", left; it needs 3 mm"), "{}", found[0].message);
        assert!(found[0].place.is_some());
    }

    #[test]
    fn between_three_and_safe_is_a_warning() {
        let found = reported(
            &RULE,
            "panel front { text a words=\"Inn\" { right trim 4; top safe 20; width 30; align right } }",
        );
        assert_eq!(found.iter().map(|found| found.severity).collect::<Vec<_>>(), [Severity::Warning]);
    }

    #[test]
    fn a_hanging_quotation_mark_passes() {
        let cover = |words: &str| {
            format!("panel front {{ text a words={words:?} {{ left 40; right safe; top 40; size 20; align right }} }}")
        };
        assert_eq!(reported(&RULE, &cover("Hut”")), []);
        // Its ink reaches the safe margin without its frame's leave.
        let near = cover("Hut").replace("right safe", "right trim 4");
        assert_eq!(reported(&RULE, &near).len(), 1);
    }

    #[test]
    fn words_on_the_guides_and_art_in_the_bleed_pass() {
        let cover = "panel front {
            image art file=\"art/small.jpg\" { left fold -1.5; right bleed; top bleed; bottom bleed; fit filling }
            text title words=\"{title}\" { left safe; right safe; top safe }
            text foot words=\"{author}\" { left safe; right safe; bottom safe }
        }";
        assert_eq!(reported(&RULE, cover), []);
    }
}
