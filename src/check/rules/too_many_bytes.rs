//! A picture for a shop that cannot be as small as it should be.
//!
//! `at-most=` asks for the best quality under a number of bytes. Under quality 40 blocks show round every letter, so no such
//! file is written: the one that is made has more bytes than were asked for.
//!
//! - at quality 40 a `screen` or `shop` picture has more bytes than its `at-most=`: error. The limit is ours.
//!
//! ```kdl
//! format screen { pixels 400 640 }
//! deliver { screen at-most=2000 }
//! panel front { text title words="{title}" { size 40; left safe; right safe; top 40 } }
//! ```
//!
//! Way out: more bytes, fewer pixels, or calmer art: noise and fine texture are heavy.

use crate::assets::{JpegWeight, LEAST_QUALITY};
use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::raster::front_picture;
use crate::scene::{Media, OtherRatio, OutputSettings, PixelSize, picture_words};

pub const RULE: CheckRule = CheckRule {
    name: "too-many-bytes",
    severity: Severity::Error,
    media: Media::Both,
    limits: &[],
    source: include_str!("too_many_bytes.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let Some((settings, size)) = picture(exam) else { return };
    let JpegWeight::AtMost(most) = settings.front.weight else { return };
    let ratio = if exam.screen().is_some() { OtherRatio::Cropped } else { settings.front.ratio };
    let Some(picture) = front_picture(exam.scene, size, ratio, exam.darkroom) else { return };
    let about = picture_words(&exam.scene.job, "image/jpeg", &exam.scene.job.picture_title("front"), true);
    let least = picture.pixels().jpeg(JpegWeight::Quality(LEAST_QUALITY), &about).len();
    if least as u64 > most {
        let message =
            format!("at quality {LEAST_QUALITY}, our least, the picture has {least} bytes; `at-most` is {most}");
        let help = "allow more bytes, state fewer pixels, or calm the art: fine texture is heavy";
        findings.fact(Severity::Error, settings.front.span, message, help);
    }
}

/// The one picture that a cover has for shops.
fn picture<'a>(exam: &Exam<'a>) -> Option<(&'a OutputSettings, PixelSize)> {
    match exam.screen() {
        Some(size) => Some((exam.facts().delivery.get("screen")?, size)),
        None => exam.shop(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_limit_that_cannot_be_kept() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1);
        assert!(found[0].message.ends_with("`at-most` is 2000"), "{}", found[0].message);
        let cover =
            |deliver: &str| reported(&RULE, &format!("format screen {{ pixels 400 640 }}\ndeliver {{ {deliver} }}"));
        assert_eq!(cover("screen at-most=\"1 MB\""), []);
        assert_eq!(cover("screen quality=100"), []);
    }
}
