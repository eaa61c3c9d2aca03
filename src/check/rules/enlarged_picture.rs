//! A picture with fewer pixels than a front for screens shows of it.
//!
//! A square or a banner is larger than the page, and the picture on it grows with it. Shown at more than its own pixels it
//! becomes soft, then blocky, and no program can add detail that the file does not have.
//!
//! - enlarged more than 1.5 times: warning; more than 3 times: error. The limits are ours.
//!
//! ```kdl
//! format screen { pixels 3000 3000 }
//! panel front { image harbour file="art/small.jpg" { left bleed; right bleed; top bleed; bottom bleed; fit filling } }
//! ```
//!
//! Way out: a larger file of the same picture, or fewer pixels in the format; or show it smaller.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "enlarged-picture",
    severity: Severity::Error,
    media: Media::Screens,
    limits: &[SOFT, BLOCKY],
    source: include_str!("enlarged_picture.rs"),
    run,
};

const SOFT: RuleLimit =
    bare("warning", "shown so many times as large as its pixels: a warning", "1.5", PRACTICE).most();
const BLOCKY: RuleLimit = bare("error", "shown so many times as large: an error", "3", PRACTICE).most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let Some(pixels) = exam.screen() else { return };
    let scale = f64::from(pixels.width) / exam.sheet().trim.width();
    for element in &exam.elements {
        for (placed, _) in element.pictures() {
            let (across, down) = placed.size();
            let (width, height) = (f64::from(placed.picture.width()), f64::from(placed.picture.height()));
            let times = (across * scale / width).max(down * scale / height);
            let (severity, passed) = if times >= findings.limit(&BLOCKY) {
                (Severity::Error, BLOCKY)
            } else if times >= findings.limit(&SOFT) {
                (Severity::Warning, SOFT)
            } else {
                continue;
            };
            let limit = findings.limit(&passed);
            let message = format!(
                "{:?} is shown {times:.1} times as large as its pixels; the limit is {limit}",
                placed.picture.name()
            );
            let help = format!(
                "it is {width} × {height} pixels; use a file of {:.0} × {:.0}, or state fewer pixels in the format",
                (across * scale).ceil(),
                (down * scale).ceil()
            );
            findings.element(severity, element, message, help);
            findings.measured(times, &passed);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // 16 × 16 pixels on a front of 100 × 160 mm with 10 pixels a millimetre.
    #[test]
    fn each_limit() {
        assert_eq!(example(&RULE)[0].severity, Severity::Error);
        let worst = |mm: f64| {
            let cover = format!(
                "format screen {{ trim 100 160; pixels 1000 1600 }}
                panel front {{ image a file=\"art/small.jpg\" {{ left 20; top 20; width {mm}; height {mm}; turn 90 }} }}"
            );
            reported(&RULE, &cover).first().map(|found| found.severity)
        };
        assert_eq!(worst(1.6 * 3.1), Some(Severity::Error));
        assert_eq!(worst(1.6 * 1.6), Some(Severity::Warning));
        assert_eq!(worst(1.6 * 1.4), None);
    }
}
