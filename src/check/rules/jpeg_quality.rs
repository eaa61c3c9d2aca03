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

/// The sum of the table of luminance in ITU-T T.81, Annex K.1, which is quality 50.
const SUM_AT_50: f64 = 3688.0;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let least = findings.limit(&LEAST);
    for element in &exam.elements {
        for (placed, _) in element.pictures() {
            let Some(quality) = quality(placed.picture.bytes()).filter(|quality| *quality < least - 0.5) else {
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

/// What the first table of quantisation amounts to; `None` where a file is no JPEG.
fn quality(bytes: &[u8]) -> Option<f64> {
    let mut rest = bytes.strip_prefix(&[0xFF, 0xD8])?;
    loop {
        let [0xFF, marker, high, low, ..] = *rest else { return None };
        let length = usize::from(high) << 8 | usize::from(low);
        let segment = rest.get(4..length + 2)?;
        match marker {
            // A table of bytes: where it belongs, and its 64 steps.
            0xDB => {
                let (kind, table) = segment.split_first()?;
                let sum: f64 = match kind >> 4 {
                    0 => table.get(..64)?.iter().map(|step| f64::from(*step)).sum(),
                    _ => return None,
                };
                let scale = sum / SUM_AT_50 * 100.0;
                return Some(if scale > 100.0 { 5000.0 / scale } else { (200.0 - scale) / 2.0 });
            }
            0xDA => return None,
            _ => rest = rest.get(length + 2..)?,
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

    #[test]
    fn other_bytes_have_no_quality() {
        for bytes in
            [&[][..], &[0xFF, 0xD8], &[0xFF, 0xD8, 0xFF, 0xDB, 0, 2], &[0xFF, 0xD8, 0xFF, 0xDB, 0xFF], b"\x89PNG"]
        {
            assert_eq!(quality(bytes), None, "{bytes:?}");
        }
    }
}
