//! Pictures that the press file holds as JPEGs.
//!
//! `deliver { press jpeg=85 }` makes press files that are quick to send. JPEG is lossy: pixels are no longer quite what they were,
//! least at a high quality. Without it every pixel is kept.
//!
//! - a cover whose pictures are written so: note. Pictures that came as JPEGs in the press's own inks are passed on in any case.
//! - a quality under 80: warning, since blocks may show. Common practice.
//!
//! ```kdl
//! panel front { image harbour file="art/deep.png" { left 40; width 5; top 60 } }
//! deliver { press jpeg=75 }
//! ```
//!
//! Way out: a higher quality; or leave `jpeg=` away, and send the file by another way.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "pictures-in-jpeg",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[LEAST],
    source: include_str!("pictures_in_jpeg.rs"),
    run,
};

const LEAST: RuleLimit = bare("warning", "a lower quality is a warning", "80", PRACTICE);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let chosen = exam.facts().delivery.get("press").copied().unwrap_or_default().press;
    let Some(quality) = chosen.jpeg else { return };
    let lossy = |element: &&crate::check::visible::VisibleElement<'_>| {
        element.pictures().any(|(placed, _)| {
            placed.takes_press_inks() && exam.scene.profile.passed_on(&placed.picture, placed.separation).is_none()
        })
    };
    let count = exam.elements.iter().filter(lossy).count();
    let Some(first) = exam.elements.iter().find(lossy) else { return };
    let severity = if f64::from(quality) < findings.limit(&LEAST) { Severity::Warning } else { Severity::Note };
    let pictures = if count == 1 { "a picture".to_owned() } else { format!("{count} pictures") };
    let message = format!("the press file has {pictures} as JPEG of quality {quality}: not every pixel is as it was");
    findings.element(severity, first, message, "leave `jpeg=` away to keep every pixel; 90 and more is hardly seen");
    findings.measured(quality.into(), &LEAST);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, example_text, reported};

    #[test]
    fn a_lossy_file_says_so() {
        assert_eq!(example(&RULE)[0].severity, Severity::Warning);
        let cover = example_text(RULE.source).expect("an example");
        assert_eq!(reported(&RULE, &cover.replace("jpeg=75", "jpeg=90"))[0].severity, Severity::Note);
        assert_eq!(reported(&RULE, &cover.replace(" jpeg=75", "")), []);
        // A picture in one ink keeps its pixels.
        assert_eq!(reported(&RULE, &cover.replace("left 40", "paint black; left 40")), []);
    }
}
