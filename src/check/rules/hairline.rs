//! Lines too thin to print.
//!
//! A plate can hold a line of a tenth of a point, but a press cannot: the line breaks up or vanishes. A line in a tint is
//! made of dots wider than itself; a line in several inks never registers exactly; a line left open in a colour fills in.
//!
//! - under 0.25 pt warning, under 0.125 pt error.
//! - left open (no ink), in a tint under 85 %, or in two inks: under 0.5 pt warning. In three inks or more: under 0.5 pt
//!   warning, under 1 pt note.
//!
//! 0.125 pt is the figure of the Ghent Workgroup's 2015 specification (0.124, from memory); the rest is common practice.
//! Checked are lines and thin filled bars, and the thinnest line of a drawing. Foil, varnish and embossing are
//! `finishing-detail`; a die line prints nothing.
//!
//! ```kdl
//! panel back {
//!     rule divider { swatch black; weight 0.1; left safe; right safe; top 40 }
//! }
//! ```
//!
//! Way out: `weight 0.5`; or the line in one solid ink.

use crate::check::exam::Exam;
use crate::check::limit::{GHENT, PRACTICE, RuleLimit, in_pt};
use crate::check::rule::{CheckRule, RuleFindings, pt};
use crate::check::visible::VisibleMark;
use crate::ground::{Colour, Finish, Ink, MM_PER_PT, Paint, Severity};
use crate::scene::{Kind, Mark, Media};

pub const RULE: CheckRule = CheckRule {
    name: "hairline",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[LEAST, THIN, DELICATE, SEVERAL],
    source: include_str!("hairline.rs"),
    run,
};

const LEAST: RuleLimit = in_pt("error", "thinner lines are an error", "0.125", GHENT);
const THIN: RuleLimit = in_pt("warning", "thinner lines are a warning", "0.25", PRACTICE);
const DELICATE: RuleLimit =
    in_pt("delicate", "thinner lines in a tint, in several inks, or left open: a warning", "0.5", PRACTICE);
const SEVERAL: RuleLimit = in_pt("three-inks", "thinner lines in three inks or more are a note", "1", PRACTICE);
/// From this share on an ink counts, and from this one on it is as good as solid.
const COUNTS: f64 = 0.1;
const SOLID: f64 = 0.85;
/// A filled bar so many times longer than wide is a line.
const BAR: f64 = 20.0;
const SLACK: f64 = 1e-4;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in exam.elements.iter().filter(|element| matches!(element.origin.kind, Kind::Shape | Kind::Picture)) {
        let judged = element.marks.iter().filter_map(|shown| {
            let (weight, paint) = line(shown)?;
            let Paint::Ink(ink) = paint else { return None };
            judge(weight, ink, findings).map(|(severity, limit, why)| (severity, weight, limit, why))
        });
        let worst = judged.min_by(|a, b| b.0.cmp(&a.0).then(a.1.total_cmp(&b.1)));
        if let Some((severity, weight, limit, why)) = worst {
            let need = limit.shown(findings.limit(&limit));
            let message = format!("{} has a line of {}; {why} needs {need}", element.name(), pt(weight));
            findings.element(severity, element, message, format!("make it {need} or more"));
            findings.measured(weight, &limit);
        }
    }
}

/// How thin a line a mark is, in points.
fn line<'a>(shown: &VisibleMark<'a>) -> Option<(f64, &'a Paint)> {
    match &shown.item.mark {
        Mark::Stroke { line, paint, .. } => Some((line.width / MM_PER_PT, paint)),
        Mark::Fill { path, paint, .. } if path.elements().len() <= 6 => {
            let bounds = crate::ground::Shape::bounding_box(path);
            let (thin, long) = (bounds.width().min(bounds.height()), bounds.width().max(bounds.height()));
            (thin > 0.0 && long > thin * BAR).then_some((thin / MM_PER_PT, paint))
        }
        _ => None,
    }
}

fn judge(weight: f64, ink: &Ink, findings: &RuleFindings) -> Option<(Severity, RuleLimit, &'static str)> {
    let under = |limit: RuleLimit| weight < findings.limit(&limit) - SLACK;
    let (plates, solid) = match &ink.colour {
        Colour::Process(inks) => {
            (inks.iter().filter(|ink| **ink > COUNTS).count(), inks.iter().any(|ink| *ink >= SOLID))
        }
        Colour::Spot(spot, _) if spot.finish.is_some_and(|finish| finish != Finish::White) => return None,
        Colour::Spot(_, tint) => (1, *tint >= SOLID),
    };
    if under(LEAST) {
        return Some((Severity::Error, LEAST, "a line"));
    }
    if under(THIN) {
        return Some((Severity::Warning, THIN, "a line"));
    }
    let why = match plates {
        0 => "a line left open",
        1 if solid => return None,
        1 => "a line in a tint",
        _ => "a line in several inks",
    };
    if under(DELICATE) {
        return Some((Severity::Warning, DELICATE, why));
    }
    (plates > 2 && under(SEVERAL)).then_some((Severity::Note, SEVERAL, why))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn worst(weight: &str, swatch: &str) -> Option<Severity> {
        let cover = format!(
            "swatches {{ swatch mixed c=80 m=60 y=50; swatch haze k=40; }}
            panel back {{ rule a {{ swatch {swatch}; weight {weight}; left safe; right safe; top 40 }} }}"
        );
        reported(&RULE, &cover).first().map(|found| found.severity)
    }

    #[test]
    fn each_limit() {
        assert_eq!(example(&RULE)[0].message, "`divider` has a line of 0.1 pt; a line needs 0.125 pt");
        assert_eq!(worst("0.2", "black"), Some(Severity::Warning));
        assert_eq!(worst("0.4", "haze"), Some(Severity::Warning));
        assert_eq!(worst("0.4", "unprinted"), Some(Severity::Warning));
        assert_eq!(worst("0.8", "mixed"), Some(Severity::Note));
    }

    #[test]
    fn lines_that_print_pass() {
        assert_eq!(worst("0.25", "black"), None);
        assert_eq!(worst("0.5", "haze"), None);
        assert_eq!(worst("1", "mixed"), None);
    }

    #[test]
    fn a_thin_band_is_a_line() {
        let cover = "panel back { band a { swatch black; left safe; right safe; top 40; height 0.03 } }";
        assert_eq!(reported(&RULE, cover)[0].severity, Severity::Error);
    }
}
