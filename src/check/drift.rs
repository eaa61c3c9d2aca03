//! What a cut, a fold or a plate that is a little off would show.
//!
//! A guillotine cuts a pile of sheets, and the pile moves; a cover is glued on by a machine, and lands a little to one side;
//! four plates never lie exactly on each other. `jaconet drift` rehearses the worst of it: it draws the cover as it would
//! come back, and says what the drift exposes. `jaconet check` does not ask this.
//!
//! - a margin or frame that keeps the same distance on two opposite sides, and would look uneven: warning when the wider
//!   side becomes more than 1.5 times the narrower one. That limit is ours.
//! - a strip along an edge of the sheet that drift can halve or cut away: warning.
//! - a white edge where colour ends before the cut can fall: warning. It is looked for on the composed sheet.
//! - an edge of colour that a fold in the wrong place carries onto the next panel: warning, unless it reaches round the fold
//!   as far as the fold can drift.
//! - words on the spine that a fold in the wrong place puts onto front or back: warning.
//! - dark colours that share no ink where one is left open in the other, so that plates apart leave a white line: note.
//!
//! Cutting ±1 mm and folding ±1.5 mm are common practice; register of ±0.1 mm is common practice of sheet-fed offset.
//!
//! ```kdl
//! panel front {
//!     band frame { swatch black; left fold 4; right trim 4; top trim 4; bottom trim 4 }
//! }
//! ```
//!
//! Way out: margins of 8 mm and more, or none at all; colour that runs to the bleed and 1.5 mm round a fold; a common ink in
//! colours that touch.

use crate::check::drift::limits::{CUT, FOLD, REGISTER, UNEVEN};
use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::cover::StatedLimits;
use crate::ground::Severity;
use crate::scene::{Drift, Media};
use std::sync::Arc;

mod folds;
mod frames;
mod limits;
mod register;
mod strips;
mod white_edges;

pub const RULE: CheckRule = CheckRule {
    name: "drift",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[CUT, FOLD, REGISTER, UNEVEN],
    source: include_str!("drift.rs"),
    run,
};

/// How far a cover may drift, by the limits that it states.
pub fn drift_of(stated: &Arc<StatedLimits>) -> Drift {
    let limits = RuleFindings::new(RULE.name, stated);
    Drift { cut: limits.limit(&CUT), fold: limits.limit(&FOLD), register: limits.limit(&REGISTER) }
}

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let drift = Drift { cut: findings.limit(&CUT), fold: findings.limit(&FOLD), register: findings.limit(&REGISTER) };
    frames::ask(exam, drift, findings);
    strips::ask(exam, drift, findings);
    white_edges::ask(exam, drift, findings);
    folds::ask(exam, drift, findings);
    register::ask(exam, drift, findings);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    /// What is said of a cover, in its order.
    fn told(cover: &str) -> Vec<String> {
        reported(&RULE, cover).into_iter().map(|finding| finding.message).collect()
    }

    fn front(inside: &str) -> String {
        format!("panel front {{ {inside} }}")
    }

    #[test]
    fn a_frame_of_four_millimetres() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1, "{found:#?}");
        // To the fold 4 mm, which may be off by 1.5: 2.5 mm on one side and 5.5 mm on the other.
        assert!(found[0].message.contains("4 mm") && found[0].message.contains("2.5 mm and 5.5 mm"), "{found:#?}");
        let frame = |mm: &str| {
            told(&front(&format!("band a {{ swatch black; left fold {mm}; right trim {mm}; top 40; height 20 }}")))
        };
        // (7.5 + 1.5) / (7.5 − 1.5) is 1.5.
        assert_eq!((frame("7.4").len(), frame("7.5").len()), (1, 0));
        // Of different width on purpose.
        let other = "band a { swatch black; left fold 4; right trim 9; top 40; height 20 }";
        assert_eq!(told(&front(other)), Vec::<String>::new());
    }

    #[test]
    fn a_strip_along_the_head() {
        let strip = |mm: &str| {
            told(&format!("wrap {{ band a {{ swatch black; left bleed; right bleed; top bleed; height {mm} }} }}"))
        };
        // The bleed of 3 mm belongs to it: 5 mm leave 2 mm on the sheet, 5.1 mm leave 2.1.
        assert_eq!((strip("5").len(), strip("5.1").len()), (1, 0));
        // A band that begins beyond the reach of any cut is never seen.
        assert_eq!((strip("2.1").len(), strip("2").len()), (1, 0));
    }

    #[test]
    fn colour_that_ends_before_a_cut_may_fall() {
        let sky = |edge: &str| {
            let found = told(&front(&format!("band a {{ swatch black; left 30; right {edge}; top 60; height 30 }}")));
            found.iter().filter(|told| told.contains("white")).count()
        };
        assert_eq!(sky("trim -0.5"), 1);
        assert_eq!((sky("trim -1.1"), sky("bleed"), sky("trim 3")), (0, 0, 0));
    }

    #[test]
    fn what_a_fold_carries_away() {
        let ground = |edge: &str| {
            told(&front(&format!("band a {{ swatch black; left fold {edge}; right bleed; top bleed; bottom bleed }}")))
        };
        assert_eq!((ground("0").len(), ground("-1").len(), ground("-1.5").len()), (1, 1, 0));
        let words =
            |size: &str| told(&format!("panel spine {{ text a words=\"Salt\" {{ head safe 5; size {size} }} }}"));
        assert_eq!((words("20"), words("60").len()), (Vec::new(), 1));
    }

    #[test]
    fn plates_that_share_no_ink() {
        let cover = |over: &str| {
            let swatches = "swatches { swatch sea c=90; swatch rose m=90; swatch sun y=90; swatch leaf c=60 y=80 }";
            let ground = "band a { swatch sea; left 20; width 60; top 60; height 60 }";
            let over = format!("band b {{ swatch {over}; left 40; width 20; top 80; height 20 }}");
            told(&format!("{swatches}\n{}", front(&(ground.to_owned() + "\n" + &over))))
        };
        assert_eq!((cover("rose").len(), cover("leaf").len(), cover("unprinted").len()), (1, 0, 0));
        // Beside yellow bare paper is hardly seen.
        assert_eq!(cover("sun"), Vec::<String>::new());
        // Words in solid black overprint.
        let words = "text b words=\"Salt\" { swatch black; size 30; left 40; top 80 }";
        let ground = "band a { swatch sea; left 20; width 60; top 60; height 60 }";
        let cover = format!("swatches {{ swatch sea c=90 }}\n{}", front(&format!("{ground}\n{words}")));
        assert_eq!(told(&cover), Vec::<String>::new());
    }

    #[test]
    fn limits_say_how_far() {
        let frame = "band a { swatch black; left fold 4; right trim 4; top 40; height 20 }";
        let calm = format!("limit drift fold=0.5 cut=0.5\n{}", front(frame));
        assert_eq!(told(&calm), Vec::<String>::new());
    }
}
