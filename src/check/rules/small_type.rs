//! Type too small to print well.
//!
//! Thin strokes break up or fill in below a certain size, and reversed ones sooner: the ink spreads into the letters, and
//! with several inks under them every misregister eats into them.
//!
//! - dark letters in one ink: under 6 pt warning, under 5 pt error.
//! - letters lighter than what they stand on: under 7 pt warning; on a ground of more than one ink, under 9 pt warning;
//!   under 6 pt error.
//!
//! Figures of the Ghent Workgroup's 2015 specification (from memory) for 5 pt; the rest is common practice. The figures of
//! a bar code are not checked.
//!
//! ```kdl
//! panel back {
//!     text rights words="Printed in Portugal" { size 5.5; left safe; bottom safe; width 60 }
//! }
//! ```
//!
//! Way out: a larger size, or a bolder weight on a dark ground.

use crate::check::exam::Exam;
use crate::check::limit::{GHENT, PRACTICE, RuleLimit, in_pt};
use crate::check::rule::{CheckRule, RuleFindings, pt};
use crate::ground::{MM_PER_PT, Paint, Severity};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "small-type",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[DARK.0, DARK.1, REVERSED.0, REVERSED.1, REVERSED_SEVERAL.0, REVERSED_SEVERAL.1],
    source: include_str!("small_type.rs"),
    run,
};

/// Warning and error.
type Sizes = (RuleLimit, RuleLimit);
const DARK: Sizes = (
    in_pt("warning", "dark letters under this size are a warning", "6", PRACTICE),
    in_pt("error", "dark letters under this size are an error", "5", GHENT),
);
const REVERSED: Sizes = (
    in_pt("reversed-warning", "letters lighter than their ground, under this size: a warning", "7", PRACTICE),
    in_pt("reversed-error", "the same: an error", "6", PRACTICE),
);
const REVERSED_SEVERAL: Sizes = (
    in_pt(
        "on-inks-warning",
        "letters lighter than a ground of several inks, under this size: a warning",
        "9",
        PRACTICE,
    ),
    in_pt("on-inks-error", "the same: an error", "6", PRACTICE),
);
/// The ground carries so much more ink than the letters that they are lighter.
const LIGHTER: f64 = 0.4;
/// From this share on an ink counts.
const COUNTS: f64 = 0.1;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let largest = RULE.limits.iter().map(|limit| findings.limit(limit)).fold(0.0, f64::max);
    for element in exam.of(Kind::Text) {
        let mut worst: Option<(Severity, f64, RuleLimit, &str)> = None;
        for (run, shown) in element.runs() {
            let size = run.size / MM_PER_PT;
            let Paint::Ink(ink) = &run.paint else { continue };
            if size >= largest - SLACK || run.text.trim().is_empty() {
                continue;
            }
            let ground = exam.ground(element.range.start, shown.bounds);
            let under = exam.ground_inks(&ground, shown.bounds).unwrap_or_default();
            let (limits, kind) = if under.iter().sum::<f64>() <= ink.total() + LIGHTER {
                (DARK, "type")
            } else if under.iter().filter(|share| **share > COUNTS).count() > 1 {
                (REVERSED_SEVERAL, "reversed type on several inks")
            } else {
                (REVERSED, "reversed type")
            };
            let under = |limit: &RuleLimit| size < findings.limit(limit) - SLACK;
            let found = if under(&limits.1) {
                (Severity::Error, size, limits.1, kind)
            } else if under(&limits.0) {
                (Severity::Warning, size, limits.0, kind)
            } else {
                continue;
            };
            if worst.is_none_or(|worst| found.0 > worst.0 || (found.0 == worst.0 && found.1 < worst.1)) {
                worst = Some(found);
            }
        }
        if let Some((severity, size, limit, kind)) = worst {
            let message = format!(
                "{} is set at {}; {kind} needs {}",
                element.name(),
                pt(size),
                limit.shown(findings.limit(&limit))
            );
            findings.element(severity, element, message, "set it larger");
            findings.measured(size, &limit);
        }
    }
}

/// Sizes come back from millimetres.
const SLACK: f64 = 0.005;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn worst(size: &str, swatch: &str, ground: &str) -> Option<Severity> {
        let cover = format!(
            "swatches {{ swatch deep c=90 m=60 y=20 k=30; swatch text k=80; }}
            panel back {{
                {ground}
                text small words=\"Printed in Portugal\" {{ size {size}; swatch {swatch}; left safe; bottom safe; width 60 }}
            }}"
        );
        reported(&RULE, &cover).first().map(|stated| stated.severity)
    }

    #[test]
    fn dark_letters() {
        assert_eq!(example(&RULE)[0].message, "`rights` is set at 5.5 pt; type needs 6 pt");
        assert_eq!(worst("4.5", "text", ""), Some(Severity::Error));
        assert_eq!(worst("6", "text", ""), None);
    }

    #[test]
    fn reversed_letters() {
        let deep = "band a { swatch deep; left bleed; right fold; top bleed; bottom bleed }";
        let black = "band a { swatch black; left bleed; right fold; top bleed; bottom bleed }";
        assert_eq!(worst("8", "unprinted", deep), Some(Severity::Warning));
        assert_eq!(worst("8", "unprinted", black), None);
        assert_eq!(worst("6.5", "unprinted", black), Some(Severity::Warning));
        assert_eq!(worst("9", "unprinted", deep), None);
        assert_eq!(worst("8", "black", deep.replace("deep;", "deep percent=10;").as_str()), None);
    }
}
