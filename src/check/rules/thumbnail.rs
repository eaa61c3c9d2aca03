//! A title or an author that cannot be read where a front is small on a screen.
//!
//! Lists of a shop show fronts 160 pixels high, and often 100. What cannot be read there does not sell the book.
//!
//! - height of the letters where the front is 160 pixels high: under 7 pixels for the title, under 4 for the author:
//!   warning. It is the median of the set letters: the x-height of words in small letters, the height of capitals.
//! - contrast of the letters with what is around them, in the pixels of a front 160 pixels high, for the title also 100:
//!   under 3 to 1: warning. It is the median over the letters, as WCAG 2 defines it.
//!
//! It is asked of fronts for screens, and of printed covers that deliver a picture for shops, `deliver { shop … }`.
//!
//! All these limits are ours. Words are found by the facts: an element that says the whole title, or its short form, and one
//! that names the author. Lettering that is a picture is not measured.
//!
//! ```kdl
//! format screen { pixels 1600 2560 }
//! panel front { text title words="{title}" { size 24; left safe; right safe; top 40 } }
//! ```
//!
//! Way out: set it larger in this edition: `type { style title { size 60 } }`; or stronger against its ground.

use crate::check::exam::Exam;
use crate::check::limit::{RuleLimit, bare};
use crate::check::proof::Patience;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::visible::VisibleElement;
use crate::check::words::median;
use crate::ground::{MM_PER_INCH, Rect, Severity};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "thumbnail",
    severity: Severity::Warning,
    media: Media::Both,
    limits: &[TITLE, AUTHOR, CONTRAST],
    source: include_str!("thumbnail.rs"),
    run,
};

/// How high the front is, in pixels.
const SMALL: f64 = 160.0;
const SMALLEST: f64 = 100.0;
const TITLE: RuleLimit = bare("title", "the least height of the title's letters, in pixels", "7", "ours");
const AUTHOR: RuleLimit = bare("author", "the least height of the author's letters, in pixels", "4", "ours");
const CONTRAST: RuleLimit = bare("contrast", "the least contrast, to 1", "3", "WCAG 2, success criterion 1.4.3");

/// Words that must be read: the facts that they say, how high their letters are at least where the front is small, and at
/// which heights of the front they stand out.
const WORDS: [(&str, &[&str], RuleLimit, &[f64]); 2] =
    [("title", &["title", "title.short"], TITLE, &[SMALL, SMALLEST]), ("author", &["author"], AUTHOR, &[SMALL])];

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let Some(front) = front(exam) else { return };
    let mut patience = Patience::default();
    let least_contrast = findings.limit(&CONTRAST);
    for (what, facts, limit, heights) in WORDS {
        let least = findings.limit(&limit);
        let on_front = |element: &&VisibleElement<'_>| front.contains(element.bounds.center());
        let saying = exam.of(Kind::Text).filter(on_front).filter(|element| exam.says_any(element, facts));
        let Some((height, element)) = saying
            .map(|element| (element.letter_height(), element))
            .max_by(|(one, _), (other, _)| one.total_cmp(other))
        else {
            continue;
        };
        let pixels = height * SMALL / front.height();
        if pixels < least - 0.05 {
            let message = format!(
                "the letters of {} are {pixels:.1} pixels high where the front is {} high; the {what} needs {least}",
                element.name(),
                SMALL
            );
            findings.element(Severity::Warning, element, message, "set it larger in this edition");
            findings.measured(pixels, &limit);
        }
        for high in heights {
            let ppi = high / front.height() * MM_PER_INCH;
            let Some(letters) = exam.letters_at(element, ppi, &mut patience) else { continue };
            let contrast = median(letters.iter().map(|letter| letter.contrast).collect());
            if let Some(contrast) = contrast.filter(|contrast| *contrast < least_contrast - 0.05) {
                let message = format!(
                    "{} has a contrast of {contrast:.1} to 1 where the front is {high} pixels high; the {what} needs \
                     {least_contrast}",
                    element.name()
                );
                let help = "give it a larger size or a bolder weight, or a ground that differs more";
                findings.element(Severity::Warning, element, message, help);
                findings.measured(contrast, &CONTRAST);
                break;
            }
        }
    }
}

/// The front, where it will be seen on screens.
fn front(exam: &Exam<'_>) -> Option<Rect> {
    if exam.screen().is_some() { Some(exam.sheet().trim) } else { exam.shop().and_then(|_| exam.sheet().front()) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn messages(size: u32, words: &str, ground: &str) -> Vec<String> {
        let cover = format!(
            "format screen {{ pixels 1600 2560 }}
            panel front {{ {ground} text a words=\"{words}\" {{ font Inter; axis opsz=14; size {size}; left 2; right 2; top 40 }} }}"
        );
        reported(&RULE, &cover).into_iter().map(|found| found.message).collect()
    }

    // Inter's x-height is 1118 of 2048 units (its OS/2 table), the front 129 × 1.6 = 206.4 mm high: at 24 pt, 8.47 mm,
    // letters are 4.62 mm and 3.6 of 160 pixels high, with the overshoot of round ones. At 48 pt they are 7.2.
    #[test]
    fn letters_are_measured_as_they_are_set() {
        assert!(example(&RULE)[0].message.contains("the title needs 7"));
        let small = messages(24, "{title}", "");
        assert!(small[0].contains("are 3.6 pixels high") || small[0].contains("are 3.7 pixels high"), "{small:?}");
        assert_eq!(messages(48, "{title}", ""), [""; 0]);
        assert_eq!(messages(30, "{author}", ""), [""; 0]);
        assert!(messages(18, "{author}", "")[0].contains("the author needs 4"));
        assert_eq!(messages(8, "A novel", ""), [""; 0]);
    }

    #[test]
    fn contrast_counts_in_few_pixels() {
        let ground = "ground grey { swatch black percent=80 };";
        let weak = messages(48, "{title}", ground);
        assert!(weak.iter().any(|found| found.contains("has a contrast of")), "{weak:?}");
    }

    /// 198 mm are 160 pixels: 7 pixels are 8.7 mm, and Inter's x-height is 0.546 of its size (its OS/2 table, for text).
    #[test]
    fn a_printed_front_is_asked_where_it_is_delivered_to_shops() {
        let cover = |size: u32, deliver: &str| {
            let text = format!(
                "text a words=\"{{title.short}}\" {{ font Inter; axis opsz=14; size {size}; left 2; right 2; top 40 }}"
            );
            let book = "book { title \"Salt and Lanterns\" { short \"Salt\" }; pages 320 }";
            reported(
                &RULE,
                &format!(
                    "{book}\n{deliver}\npanel front {{ {text} }}\npanel spine {{ text b words=\"Salt\" {{ head safe 5; size 9 }} }}"
                ),
            )
        };
        let shop = "deliver { shop 1600 2456 }";
        assert_eq!((cover(30, "").len(), cover(30, shop).len(), cover(52, shop).len()), (0, 2, 0));
        assert!(cover(30, shop)[0].message.contains("pixels high where the front is 160 high"));
    }
}
