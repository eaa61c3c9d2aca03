//! A front for screens whose edge melts into a white page.
//!
//! Shops show fronts on white. One that is white at its edges has no shape there: its words seem to float.
//!
//! - more than half of the edge nearly white, a contrast with white under 1.1 to 1: note. The limits are ours; WCAG 2 defines
//!   the ratio.
//!
//! ```kdl
//! format screen { pixels 1600 2560 }
//! panel front { text title words="{title}" { size 60; left safe; right safe; top 40 } }
//! ```
//!
//! Way out: a fine frame, `band edge { stroke black percent=30 weight=1; left trim; right trim; top trim; bottom trim }`, or a
//! tinted ground.

use crate::check::exam::Exam;
use crate::check::limit::{OURS, RuleLimit, bare, in_percent};
use crate::check::proof::{contrast, luminance};
use crate::check::rule::{CheckRule, RuleFindings, percent};
use crate::ground::{MM_PER_INCH, Severity};
use crate::raster::screen;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "white-edge",
    severity: Severity::Note,
    media: Media::Screens,
    limits: &[DIFFERS, SHARE],
    source: include_str!("white_edge.rs"),
    run,
};

/// Pixels of the height in which the edge is looked at: about as large as a shop shows it.
const HEIGHT: f64 = 400.0;
const DIFFERS: RuleLimit = bare("contrast", "an edge with less contrast with white is taken for white", "1.1", OURS);
const SHARE: RuleLimit = in_percent("share", "more of the edge in white than this is a note", "50", OURS).most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let (differs, most) = (findings.limit(&DIFFERS), findings.limit(&SHARE));
    let area = exam.sheet().trim;
    let drawn = screen(exam.scene, area, HEIGHT / area.height() * MM_PER_INCH, exam.darkroom);
    let (width, height) = (drawn.width, drawn.height);
    let edge = |(x, y): &(usize, usize)| *x == 0 || *y == 0 || x + 1 == width || y + 1 == height;
    let all: Vec<(usize, usize)> = (0..height).flat_map(|y| (0..width).map(move |x| (x, y))).filter(edge).collect();
    let is_white = |(x, y): &&(usize, usize)| {
        let at = (y * width + x) * 3;
        contrast(luminance(&drawn.rgb[at..at + 3]), 1.0) < differs
    };
    let share = all.iter().filter(is_white).count() as f64 / all.len().max(1) as f64;
    if share > most {
        let message =
            format!("{} of the front's edge are nearly white, and melt into the page of a shop", percent(share));
        let help = "give it a fine frame or a tinted ground in this edition";
        findings.fact(Severity::Note, exam.facts().format.span, message, help);
        findings.measured(share, &SHARE);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn white_on_white() {
        assert_eq!(example(&RULE).len(), 1);
        let cover = |look: &str| {
            format!(
                "format screen {{ pixels 1600 2560 }}
                panel front {{ band edge {{ {look}; left trim; right trim; top trim; bottom trim }} }}"
            )
        };
        assert_eq!(reported(&RULE, &cover("swatch black percent=20")), []);
        assert_eq!(reported(&RULE, &cover("stroke black percent=40 weight=3")), []);
        assert_eq!(reported(&RULE, &cover("swatch black percent=2")).len(), 1);
    }
}
