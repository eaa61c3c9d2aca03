//! A large area of black ink alone, which looks grey.
//!
//! One layer of black ink lets paper through. In small type nobody sees it; over a large area it looks like dark grey
//! beside a photograph or another book.
//!
//! - more than 20 cm² that hang together in 99 % black or more, with under 5 % of any other ink: note. Common practice.
//!   It is measured on the composed sheet, without the bleed.
//!
//! ```kdl
//! panel front { band night { swatch black; left fold -1.5; right bleed; top bleed; bottom bleed } }
//! ```
//!
//! Way out: a deep black, `swatch deep c=60 m=40 y=40 k=100`, within the ink limit.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare};
use crate::check::patches::{InkPatch, patches};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "plain-black-area",
    severity: Severity::Note,
    media: Media::Print,
    limits: &[LARGE],
    source: include_str!("plain_black_area.rs"),
    run,
};

const LARGE: RuleLimit = bare("area", "more square centimetres than this are a note", "20", PRACTICE).most();
const SOLID: u8 = 252;
const ANY: u8 = 13;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let black = |ink: &crate::ground::Ink| ink.is_black() && ink.total() > 0.98;
    let mut any = false;
    exam.elements.iter().for_each(|element| element.inks(&mut |ink, _| any |= black(ink)));
    let Some(measured) = exam.measured.filter(|_| any) else { return };
    let (bleed, trim) = (exam.sheet().bleed, exam.sheet().trim);
    let (drawn, pixel) = (&measured.plates, measured.sums.pixel);
    let others = || drawn.process[..3].iter().chain(drawn.spots.iter().map(|(_, plane)| plane));
    let inside = |at: usize| {
        let (x, y) = ((at % drawn.width) as f64 * pixel + bleed.x0, (at / drawn.width) as f64 * pixel + bleed.y0);
        x >= trim.x0 && x <= trim.x1 && y >= trim.y0 && y <= trim.y1
    };
    let plain = |at: usize| inside(at) && drawn.process[3][at] >= SOLID && others().all(|plane| plane[at] < ANY);
    let large = findings.limit(&LARGE);
    let all = patches((0..drawn.width * drawn.height).map(plain).collect(), drawn.width);
    // Square centimetres.
    let size = |patch: &InkPatch| patch.pixels.len() as f64 * pixel * pixel / 100.0;
    let Some(largest) = all.iter().max_by(|a, b| size(a).total_cmp(&size(b))).filter(|patch| size(patch) > large)
    else {
        return;
    };
    let place = largest.place(drawn.width, bleed, pixel);
    let message = format!(
        "{:.0} cm² are printed in black alone, which looks grey on an area of more than {:.0}",
        size(largest),
        large
    );
    let there = exam.elements.iter().rev().find(|element| {
        let mut is_black = false;
        element.inks(&mut |ink, _| is_black |= black(ink));
        is_black && element.bounds.intersect(place).area() > place.area() / 2.0
    });
    let span = there.map_or(exam.facts().press.span, |element| element.origin.span);
    findings.place(Severity::Note, span, place, message, "lay other inks under it: 60 40 40 100 is 240 %");
    findings.measured(size(largest), &LARGE);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_black_front() {
        // 130.5 × 198 mm are 258.4 cm², in pixels of a third of a millimetre a little more.
        assert!(example(&RULE)[0].message.starts_with("259 cm² are"), "{:?}", example(&RULE));
        let cover = |height: u32, ink: &str| {
            format!(
                "swatches {{ swatch deep c=60 m=40 y=40 k=100; }}
                panel front {{ band a {{ swatch {ink}; left 20; width 50; top 20; height {height} }} }}"
            )
        };
        assert_eq!(reported(&RULE, &cover(41, "black")).len(), 1);
        assert_eq!(reported(&RULE, &cover(39, "black")), []);
        assert_eq!(reported(&RULE, &cover(80, "deep")), []);
    }
}
