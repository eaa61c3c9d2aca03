//! A JPEG saved so small that blocks and halos show.
//!
//! JPEG throws detail away, more at each lower quality. On a screen it passes; in print, squares of eight pixels and
//! rings round hard edges can be seen.
//!
//! - quality under 60 as the tables in the file tell it: note. The scale is that of the Independent JPEG Group's library, on
//!   which most programs agree roughly; the limit is common practice.
//!
//! ```kdl
//! panel front { image harbour file="art/coarse.jpg" { left 40; width 20; top 60 } }
//! ```
//!
//! Way out: the original picture, saved once, at quality 85 or more. Saving the small one again at a higher quality adds nothing.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "jpeg-quality",
    severity: Severity::Note,
    media: Media::Both,
    limits: &[LEAST],
    source: include_str!("jpeg_quality.rs"),
    run,
};

const LEAST: RuleLimit = bare("note", "a lower quality is a note", "60", PRACTICE);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let least = findings.limit(&LEAST);
    for element in &exam.elements {
        for (placed, _) in element.pictures() {
            let Some(quality) = placed.picture.jpeg_quality().filter(|quality| *quality < least - 0.5) else {
                continue;
            };
            let message = format!(
                "{:?} is a JPEG of quality {quality:.0}; under {least:.0} its blocks show",
                placed.picture.name()
            );
            findings.element(Severity::Note, element, message, "use the original picture, saved at quality 85 or more");
            findings.measured(quality, &LEAST);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // tests/pictures/coarse.jpg was saved by Pillow at quality 40, grey.jpg at 90 (tests/pictures/make.py).
    #[test]
    fn as_another_program_saved_it() {
        assert!(
            example(&RULE)[0].message.starts_with("\"art/coarse.jpg\" is a JPEG of quality 40;"),
            "{:?}",
            example(&RULE)
        );
        let fine = "panel front { image harbour file=\"art/small.jpg\" { left 40; width 20; top 60 } }";
        assert_eq!(reported(&RULE, fine), []);
    }
}
