//! A picture with too few pixels for its size on paper.
//!
//! A picture fine on a screen can be coarse in print, for paper shows finer detail than a screen. Its pixels show as
//! steps, and no program can add detail that the file does not have.
//!
//! Measured at the printed size, the worst pictures first:
//!
//! - continuous tone: 300 pixels per inch are wanted; under 300 note, under 225 warning, under 150 error.
//! - line art of 1 bit: 1200 are wanted; under 800 warning, under 550 error.
//!
//! The limits are those of the Ghent Workgroup's 2015 specification for sheet-fed offset, from memory; 300 and 1200 are
//! common practice.
//!
//! ```kdl
//! panel front {
//!     image harbour file="art/small.jpg" { left fold -1.5; right bleed; top bleed; bottom bleed; fit filling }
//! }
//! ```
//!
//! Way out: a larger file of the same picture; enlarging the one you have adds no detail. Or show it smaller.

use crate::check::exam::Exam;
use crate::check::limit::{GHENT, PRACTICE, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleElement;
use crate::ground::{MM_PER_INCH, Severity};
use crate::scene::{Media, PlacedPicture};

pub const RULE: CheckRule = CheckRule {
    name: "effective-resolution",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[TONE.wanted, TONE.warning, TONE.error, LINE_ART.warning, LINE_ART.error],
    source: include_str!("effective_resolution.rs"),
    run,
};

struct Resolutions {
    wanted: RuleLimit,
    warning: RuleLimit,
    error: RuleLimit,
}

const TONE: Resolutions = Resolutions {
    wanted: bare("note", "continuous tone with fewer pixels per inch is a note", "300", PRACTICE),
    warning: bare("warning", "continuous tone with fewer pixels per inch is a warning", "225", GHENT),
    error: bare("error", "continuous tone with fewer pixels per inch is an error", "150", GHENT),
};
const LINE_ART_WARNING: RuleLimit =
    bare("line-art-warning", "line art of 1 bit with fewer pixels per inch is a warning", "800", GHENT);
const LINE_ART: Resolutions = Resolutions {
    wanted: LINE_ART_WARNING,
    warning: LINE_ART_WARNING,
    error: bare("line-art-error", "line art of 1 bit with fewer pixels per inch is an error", "550", GHENT),
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let mut all: Vec<(f64, &VisibleElement<'_>, &PlacedPicture)> = Vec::new();
    for element in &exam.elements {
        all.extend(element.pictures().map(|(placed, _)| (resolution(placed), element, placed)));
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (ppi, element, placed) in all {
        let limits = if placed.picture.bits() == 1 { LINE_ART } else { TONE };
        // A hair under the limit comes of rounding a size to hundredths.
        let graded =
            [(limits.error, Severity::Error), (limits.warning, Severity::Warning), (limits.wanted, Severity::Note)];
        let under = |(limit, _): &(RuleLimit, Severity)| ppi < findings.limit(limit) * 0.995;
        let Some((missed, severity)) = graded.into_iter().find(under) else { continue };
        let limit = findings.limit(&missed);
        let (across, down) = placed.size();
        let picture = &placed.picture;
        let message = format!(
            "{:?} has {:.0} pixels per inch at {} × {}; the limit is {limit:.0}",
            picture.name(),
            ppi,
            mm(across),
            mm(down)
        );
        let wanted = findings.limit(&limits.wanted).max(findings.limit(&TONE.wanted));
        let pixels = |mm: f64| (mm / MM_PER_INCH * wanted).ceil();
        let help = format!(
            "it is {} × {} pixels; at this size use a file of {:.0} × {:.0}",
            picture.width(),
            picture.height(),
            pixels(across),
            pixels(down)
        );
        findings.element(severity, element, message, help);
        findings.measured(ppi, &missed);
    }
}

/// The lower of the two where it is stretched.
fn resolution(placed: &PlacedPicture) -> f64 {
    let (across, down) = placed.size();
    let per_inch = |pixels: u32, mm: f64| f64::from(pixels) * MM_PER_INCH / mm;
    per_inch(placed.picture.width(), across).min(per_inch(placed.picture.height(), down))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // The picture has 16 × 16 pixels: at 25.4 mm, 16 to the inch by the definition of the inch.
    fn at(file: &str, mm: f64) -> Vec<(Severity, String)> {
        let cover =
            format!("panel front {{ image a file={file:?} {{ left 20; top 20; width {mm}; height {mm}; turn 90 }} }}");
        reported(&RULE, &cover).into_iter().map(|found| (found.severity, found.message)).collect()
    }

    #[test]
    fn sixteen_pixels_over_a_whole_front() {
        assert_eq!(example(&RULE)[0].severity, Severity::Error);
        let found = at("art/small.jpg", 25.4);
        assert!(found[0].1.contains("has 16 pixels per inch at 25.4 mm × 25.4 mm; the limit is 150"), "{found:?}");
    }

    #[test]
    fn each_limit() {
        let worst = |mm: f64| at("art/small.jpg", mm).first().map(|found| found.0);
        let size = |ppi: f64| 16.0 / ppi * 25.4;
        assert_eq!(worst(size(149.0)), Some(Severity::Error));
        assert_eq!(worst(size(200.0)), Some(Severity::Warning));
        assert_eq!(worst(size(260.0)), Some(Severity::Note));
        assert_eq!(worst(size(300.0)), None);
    }

    #[test]
    fn line_art_wants_more() {
        let found = at("art/line.tif", 16.0 / 400.0 * 25.4);
        assert_eq!(found.first().map(|found| found.0), Some(Severity::Error), "{found:?}");
    }
}
