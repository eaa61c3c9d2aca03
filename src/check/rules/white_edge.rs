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
use crate::ground::{MM_PER_INCH, Rect, Severity};
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
    let pixel = area.height() / HEIGHT;
    let inner = area.inset(-pixel);
    // Only the edge is composed, side by side.
    let sides = [
        Rect { y1: inner.y0, ..area },
        Rect { y0: inner.y1, ..area },
        Rect { x1: inner.x0, ..area },
        Rect { x0: inner.x1, ..area },
    ];
    let is_white = |rgb: &[u8]| contrast(luminance(rgb), 1.0) < differs;
    let (mut white, mut all) = (0, 0);
    for side in sides {
        let drawn = screen(exam.scene, side, MM_PER_INCH / pixel, exam.darkroom);
        white += drawn.rgb.chunks_exact(3).filter(|rgb| is_white(rgb)).count();
        all += drawn.width * drawn.height;
    }
    let share = white as f64 / all.max(1) as f64;
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
