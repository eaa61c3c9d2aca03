//! A QR code that phones can hardly read.
//!
//! A phone reads by white light, from a hand's distance, and its owner gives up after a few seconds.
//!
//! - a module under 0.4 mm: warning; under 0.25 mm, about six dots of a press at 600 dpi: error. GS1 asks for 0.396 mm where a
//!   QR code is scanned at a till (from memory); the lower limit is ours.
//! - modules in more than one ink, in a tint, or thinned by a group: error, for their edges are ragged. So are those that are
//!   left open in a ground of more than one ink or of a tint.
//! - a picture, a gradient or several things under it: error.
//! - contrast between ground and modules, as difference of reflectance: under 70 % (grade A of ISO/IEC 15415, from memory)
//!   warning, under 40 % (grade C) error. Reflectance is the luminance of the proof's sRGB, paper being 1.
//! - light modules on a dark ground: warning. The standard allows them, and some readers do not know that.
//!
//! What lies in its quiet zone is found by `bar-code-quiet-zone`.
//!
//! ```kdl
//! panel back {
//!     qr-code more words="https://lanternhouse.example/tides" { left safe; bottom safe; width 9 }
//! }
//! ```
//!
//! Way out: black on white, larger, or a shorter address, which makes a coarser code.

use crate::check::code_inks::{flat_ground, ink_fault, open_fault, too_little};
use crate::check::exam::Exam;
use crate::check::limit::{RuleLimit, in_mm, in_percent};
use crate::check::proof::luminance;
use crate::check::qr_marks::QrMarks;
use crate::check::rule::{CheckRule, RuleFindings, mm, percent};
use crate::ground::{Ink, Severity};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "qr-code-hard-to-read",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[SMALL, SMALLEST, GOOD, POOR],
    source: include_str!("qr_code_hard_to_read.rs"),
    run,
};

const SMALL: RuleLimit = in_mm("module-warning", "a module under this is a warning", "0.4", "GS1, from memory");
const SMALLEST: RuleLimit = in_mm("module-error", "a module under this is an error", "0.25", "ours");
const ISO: &str = "ISO/IEC 15415, from memory";
const GOOD: RuleLimit = in_percent("warning", "less contrast than this is a warning", "70", ISO);
const POOR: RuleLimit = in_percent("error", "less contrast than this is an error", "40", ISO);
const HELP: &str = "print it in solid black on white";
const SLACK: f64 = 5e-4;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in exam.of(Kind::QrCode) {
        let Some(marks) = QrMarks::of(element) else {
            let message = format!("the modules of {} print no ink", element.name());
            findings.element(Severity::Error, element, message, HELP);
            continue;
        };
        let under = |findings: &RuleFindings, limit: &RuleLimit| marks.module < findings.limit(limit) - SLACK;
        let size = if under(findings, &SMALLEST) {
            Some((Severity::Error, SMALLEST))
        } else {
            under(findings, &SMALL).then_some((Severity::Warning, SMALL))
        };
        if let Some((severity, limit)) = size {
            let least = findings.limit(&limit);
            let message =
                format!("a module of {} is {} wide; phones need {}", element.name(), mm(marks.module), mm(least));
            let side = (marks.zone.width() / marks.module * least * 10.0).ceil() / 10.0;
            let help = format!("make it {} wide or more, or shorten the address", mm(side));
            findings.element(severity, element, message, help);
            findings.measured(marks.module, &limit);
        }
        if let Some(fault) = ink_fault(element, std::slice::from_ref(&marks.ink)) {
            findings.element(Severity::Error, element, format!("the modules of {} {fault}", element.name()), HELP);
            continue;
        }
        let Some(ground) = flat_ground(exam, element, marks.zone) else {
            let message = format!("no flat colour lies under {}", element.name());
            findings.element(Severity::Error, element, message, "put a white ground under it");
            continue;
        };
        if let Some(fault) = open_fault(&ground).filter(|_| marks.ink.total() <= 0.0) {
            findings.element(Severity::Error, element, format!("the modules of {} {fault}", element.name()), HELP);
            continue;
        }
        let light = |ink: &Ink| {
            luminance(&exam.scene.profile.screen_pixels(&ink.look().map(|ink| (ink * 255.0).round() as u8)))
        };
        let contrast = light(&ground) - light(&marks.ink);
        if let Some((severity, limit)) = too_little(contrast.abs(), findings, (POOR, GOOD)) {
            let (seen, least) = (percent(contrast.abs()), percent(findings.limit(&limit)));
            let message = format!("{} has {seen} of contrast; it needs {least}", element.name());
            findings.element(severity, element, message, HELP);
            findings.measured(contrast.abs(), &limit);
        } else if contrast < 0.0 {
            let message = format!("{} is light on a dark ground, which some phones do not read", element.name());
            findings.element(Severity::Warning, element, message, "print it dark on light");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::reported;

    fn worst(more: &str) -> Option<Severity> {
        let swatches = "swatches { swatch grey k=40; swatch mix c=60 k=100; swatch night c=100 m=80 y=40 k=60 };";
        let code = format!("qr-code code words=\"https://lantern.example/t\" {{ left safe; bottom safe; {more} }}");
        let found = reported(&RULE, &format!("{swatches} panel back {{ {code} }}"));
        assert!(found.len() < 2, "{found:?}");
        found.first().map(|found| found.severity)
    }

    /// 25 letters in bytes at level M: version 2, 25 modules (ISO/IEC 18004, table 7, from memory), 33 with the quiet zones.
    #[test]
    fn modules_just_within_and_just_beyond() {
        assert_eq!(worst("width 13.2"), None);
        assert_eq!(worst("width 13.1"), Some(Severity::Warning));
        assert_eq!(worst("width 8.25"), Some(Severity::Warning));
        assert_eq!(worst("width 8.2"), Some(Severity::Error));
        assert_eq!(worst("width 13.2; turn 90"), None);
    }

    #[test]
    fn inks_and_grounds() {
        assert_eq!(worst("width 20; swatch grey"), Some(Severity::Error));
        assert_eq!(worst("width 20; swatch mix"), Some(Severity::Error));
        assert_eq!(worst("width 20; ground grey"), Some(Severity::Warning));
        assert_eq!(worst("width 20; ground night"), Some(Severity::Error));
        assert_eq!(worst("width 20; opacity 60"), Some(Severity::Error));
        assert_eq!(worst("width 20; ground none"), None);
    }

    /// Light modules: left open in one solid ink they are sharp, and only some readers do not know them.
    #[test]
    fn a_code_that_is_left_open_in_its_ground() {
        let message = |ground: &str| {
            let cover = format!(
                "swatches {{ swatch grey k=40; swatch night c=100 m=80 y=40 k=60 }}
                panel back {{ qr-code code words=\"A\" {{ left safe; bottom safe; width 20; swatch unprinted; ground {ground} }} }}"
            );
            let found = reported(&RULE, &cover);
            assert_eq!(found.len(), 1, "{found:?}");
            (found[0].severity, found[0].message.clone())
        };
        let open = |what: &str| (Severity::Error, format!("the modules of `code` are left open in {what}"));
        assert_eq!(message("night"), open("4 inks, which never register exactly"));
        assert_eq!(message("grey"), open("a tint of 40 %, which is made of dots"));
        assert_eq!(message("black").0, Severity::Warning);
        assert_eq!(message("unprinted"), (Severity::Error, "`code` has 0 % of contrast; it needs 40 %".to_owned()));
    }

    /// A limit that is moved for warnings hides no error.
    #[test]
    fn the_graver_limit_is_asked_first() {
        let cover = "limit qr-code-hard-to-read warning=30
            swatches { swatch night c=100 m=80 y=40 k=60 }
            panel back { qr-code code words=\"A\" { left safe; bottom safe; width 20; ground night } }";
        assert_eq!(reported(&RULE, cover)[0].severity, Severity::Error);
    }
}
