//! Small type printed from more than one plate.
//!
//! Plates register to a tenth of a millimetre, which is the width of a serif. Small letters in two or more inks show a
//! coloured fringe, and read as bad focus.
//!
//! Counted are inks of more than 10 %.
//!
//! - under 9 pt in more than one ink: warning; from 9 to 12 pt in three: note, in four: warning.
//! - black of 85 % or more with other inks under it, below 24 pt: warning. Small black wants black alone.
//!
//! Headings and the 8 to 9 pt of the Ghent Workgroup's 2015 specification, from memory; 24 pt and 10 % are common practice.
//!
//! ```kdl
//! swatches { swatch plum c=40 m=80 k=20; }
//! panel back {
//!     text note words="First published in 1994" { size 8; swatch plum; left safe; bottom safe; width 60 }
//! }
//! ```
//!
//! Way out: one strong ink, black above all, or a spot ink; or a larger size.

use crate::check::exam::Exam;
use crate::check::limit::{GHENT, PRACTICE, RuleLimit, in_pt};
use crate::check::rule::{CheckRule, RuleFindings, pt};
use crate::ground::{Colour, Ink, MM_PER_PT, Paint, Severity};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "small-type-in-several-inks",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[SMALL, FINE, SMALL_BLACK],
    source: include_str!("small_type_in_several_inks.rs"),
    run,
};

const SMALL: RuleLimit = in_pt("two-inks", "letters in more than one ink, under this size: a warning", "9", GHENT);
const FINE: RuleLimit =
    in_pt("three-inks", "letters in three inks, under this size: a note; in four: a warning", "12", PRACTICE);
const SMALL_BLACK: RuleLimit =
    in_pt("rich-black", "black letters with other inks under them, under this size: a warning", "24", PRACTICE);
/// Common practice.
const COUNTS: f64 = 0.1;
const DARK: f64 = 0.85;
const SLACK: f64 = 0.005;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in exam.of(Kind::Text) {
        let runs = element.runs().filter(|(run, _)| !run.text.trim().is_empty());
        let judged = runs.filter_map(|(run, _)| match &run.paint {
            Paint::Ink(ink) => judge(run.size / MM_PER_PT, ink, findings),
            Paint::None | Paint::Gradient(_) => None,
        });
        let worst = judged.max_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)));
        let Some((severity, size, limit, ink)) = worst else { continue };
        let message = format!(
            "{} is set at {} in {} inks; below {} one is better",
            element.name(),
            pt(size),
            plates(ink),
            limit.shown(findings.limit(&limit))
        );
        let help =
            if is_rich(ink) { "print it in black alone: `swatch black`" } else { "print it in one ink, or larger" };
        findings.element(severity, element, message, help);
        findings.measured(size, &limit);
    }
}

/// How bad letters of a size in an ink are, and the size from which they pass.
fn judge<'a>(size: f64, ink: &'a Ink, findings: &RuleFindings) -> Option<(Severity, f64, RuleLimit, &'a Ink)> {
    let under = |limit: RuleLimit| size < findings.limit(&limit) - SLACK;
    match plates(ink) {
        0 | 1 => None,
        _ if is_rich(ink) && under(SMALL_BLACK) => Some((Severity::Warning, size, SMALL_BLACK, ink)),
        _ if under(SMALL) => Some((Severity::Warning, size, SMALL, ink)),
        3 if under(FINE) => Some((Severity::Note, size, FINE, ink)),
        4.. if under(FINE) => Some((Severity::Warning, size, FINE, ink)),
        _ => None,
    }
}

fn plates(ink: &Ink) -> usize {
    match &ink.colour {
        Colour::Process(inks) => inks.iter().filter(|ink| **ink > COUNTS).count(),
        Colour::Spot(..) => 1,
    }
}

fn is_rich(ink: &Ink) -> bool {
    matches!(ink.colour, Colour::Process([.., black]) if black >= DARK)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{drawn, example, reported, reported_with};
    use crate::scene::Mark;

    fn worst(size: &str, swatch: &str) -> Option<Severity> {
        let cover = format!(
            "swatches {{ swatch plum c=40 m=80 k=20; swatch rich c=60 m=40 y=40 k=100; swatch slate c=30 k=70; swatch nearly m=5 k=90; swatch leaf c=86 m=48 y=69 k=61; }}
            panel back {{ text a words=\"Inn\" {{ size {size}; swatch {swatch}; left safe; bottom safe; width 90 }} }}"
        );
        reported(&RULE, &cover).first().map(|found| found.severity)
    }

    #[test]
    fn two_and_three_inks() {
        assert_eq!(example(&RULE)[0].message, "`note` is set at 8 pt in 3 inks; below 9 pt one is better");
        assert_eq!(worst("10", "plum"), Some(Severity::Note));
        assert_eq!(worst("12", "plum"), None);
        assert_eq!(worst("8.5", "slate"), Some(Severity::Warning));
        assert_eq!(worst("11", "slate"), None);
        assert_eq!(worst("20", "rich"), Some(Severity::Warning));
        assert_eq!(worst("24", "rich"), None);
        assert_eq!(worst("11", "leaf"), Some(Severity::Warning));
        assert_eq!(worst("15", "leaf"), None);
    }

    // 10 pt in three inks is a note, 20 pt in a rich black in the same element a warning.
    #[test]
    fn the_smaller_letters_do_not_hide_the_graver() {
        let cover = "swatches { swatch plum c=40 m=80 k=20 }
            panel back { text a words=\"Inn\" { size 10; swatch plum; left safe; bottom safe; width 90 } }";
        let (_, scene) = drawn(cover);
        let small = scene.items.last().expect("words are drawn").clone();
        let mut large = small.clone();
        let Mark::Glyphs(run) = &mut large.mark else { panic!("words are glyphs") };
        (run.size, run.paint) = (20.0 * MM_PER_PT, Ink::process(0.6, 0.4, 0.4, 1.0).into());
        let found = reported_with(&RULE, "", vec![small, large]);
        assert_eq!(found.iter().map(|found| found.severity).collect::<Vec<_>>(), [Severity::Warning], "{found:?}");
    }

    #[test]
    fn one_ink_passes() {
        assert_eq!(worst("7", "black"), None);
        assert_eq!(worst("7", "nearly"), None);
    }
}
