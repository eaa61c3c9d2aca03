//! A shop's picture in another ratio than the front.
//!
//! A shop asks for pixels, and the printed front has the ratio of its page. Whether the picture shows less of it or bars
//! beside it is a decision, so nothing is made until the cover has taken it.
//!
//! - the pixels that `deliver { shop … }` states differ from the ratio of the front by more than a pixel, and `ratio=` does
//!   not say what to do: error.
//!
//! ```kdl
//! deliver { shop 1600 2400 }
//! ```
//!
//! Way out: the pixels that the message names; or `ratio=crop`, which shows the middle; or `ratio=extend`, which adds bars.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::{Severity, number};
use crate::scene::{Media, OtherRatio};

pub const RULE: CheckRule = CheckRule {
    name: "shop-ratio",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[],
    source: include_str!("shop_ratio.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let Some((settings, size)) = exam.shop() else { return };
    let Some(front) = exam.sheet().front().filter(|front| !size.fits(*front)) else { return };
    if settings.front.ratio != OtherRatio::Refused {
        return;
    }
    let thousandths = |ratio: f64| number((ratio * 1000.0).round() / 1000.0);
    let [width, height] = [front.width(), front.height()].map(|side| number((side * 100.0).round() / 100.0));
    let message = format!(
        "the front is {width} × {height} mm, 1 to {}, and the shop's picture {size} pixels, 1 to {}",
        thousandths(front.height() / front.width()),
        thousandths(1.0 / size.ratio())
    );
    let fitting = (f64::from(size.width) * front.height() / front.width()).round();
    let help = format!("write `shop {} {fitting}`, or add `ratio=crop` or `ratio=extend`", size.width);
    findings.fact(Severity::Error, settings.front.span, message, help);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn both_ratios_are_named() {
        let found = example(&RULE);
        // 198 / 129 and 2400 / 1600.
        let wanted = "the front is 129 × 198 mm, 1 to 1.535, and the shop's picture 1600 × 2400 pixels, 1 to 1.5";
        assert_eq!(found.iter().map(|found| found.message.as_str()).collect::<Vec<_>>(), [wanted]);
        assert!(found[0].help.as_deref().is_some_and(|help| help.contains("`shop 1600 2456`")));
        for deliver in ["shop 1600 2456", "shop 1600 2400 ratio=crop", "shop 1600 2400 png ratio=extend"] {
            assert_eq!(reported(&RULE, &format!("deliver {{ {deliver} }}")), []);
        }
    }
}
