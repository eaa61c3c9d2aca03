//! A front for screens with fewer pixels than shops take.
//!
//! Shops show a front large on sharp screens, and refuse or blur one that has too few pixels.
//!
//! - the longer side under 1000 pixels: error; under 2400: warning. Common practice of shops, which differ: follow yours.
//! - a front that is wider than high is a banner, whose size is up to the page it goes onto, and is not looked at.
//!
//! ```kdl
//! format screen { pixels 800 1280 }
//! ```
//!
//! Way out: state more, in the same ratio: `pixels 1600 2560`.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "few-pixels",
    severity: Severity::Error,
    media: Media::Screens,
    limits: &[WANTED, REFUSED],
    source: include_str!("few_pixels.rs"),
    run,
};

const WANTED: RuleLimit = bare("warning", "fewer pixels on the longer side are a warning", "2400", PRACTICE);
const REFUSED: RuleLimit = bare("error", "fewer pixels on the longer side are an error", "1000", PRACTICE);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let Some(pixels) = exam.screen().filter(|pixels| pixels.height >= pixels.width) else { return };
    let high = f64::from(pixels.height);
    let (severity, missed) = if high < findings.limit(&REFUSED) {
        (Severity::Error, REFUSED)
    } else if high < findings.limit(&WANTED) {
        (Severity::Warning, WANTED)
    } else {
        return;
    };
    let (limit, wanted) = (findings.limit(&missed), findings.limit(&WANTED));
    let message = format!("the front has {pixels} pixels; its longer side needs {limit}");
    let width = (wanted * pixels.ratio()).ceil();
    let help = format!("state more, in the same ratio: `pixels {width} {wanted}`");
    findings.fact(severity, exam.facts().format.span, message, help);
    findings.measured(high, &missed);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn worst(pixels: &str) -> Option<Severity> {
        reported(&RULE, &format!("format screen {{ pixels {pixels} }}")).first().map(|found| found.severity)
    }

    #[test]
    fn the_longer_side_counts() {
        assert_eq!(example(&RULE)[0].severity, Severity::Warning);
        assert_eq!(worst("700 999"), Some(Severity::Error));
        assert_eq!(worst("1600 2399"), Some(Severity::Warning));
        assert_eq!(worst("1600 2400"), None);
        assert_eq!(worst("970 250"), None);
    }
}
