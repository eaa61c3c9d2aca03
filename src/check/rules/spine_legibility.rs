//! A title or an author on the spine too small to be read on a shelf.
//!
//! On a shelf a book is its spine, and it is read at arm's length.
//!
//! - height of the letters of title and author on the spine under 1.2 mm: warning. It is the median of the set letters: the
//!   x-height of words in small letters, the height of capitals. At 70 cm, the length of an arm, that is 6 minutes of arc;
//!   letters of 5 minutes are what a sound eye can just tell apart (the definition of visual acuity 1.0). The limit is ours.
//!
//! Contrast is `low-contrast`.
//!
//! ```kdl
//! panel spine { text spine-title words="{title}" { head safe 5; size 5.5; font Inter } }
//! ```
//!
//! Way out: a larger size; on a thin spine capitals, or the short title, `words="{title.short}"`.

use crate::check::exam::Exam;
use crate::check::limit::{OURS, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "spine-legibility",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[LEAST],
    source: include_str!("spine_legibility.rs"),
    run,
};

const LEAST: RuleLimit = in_mm("warning", "lower letters of title and author on the spine are a warning", "1.2", OURS);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let least = findings.limit(&LEAST);
    for element in exam.spine_words().filter(|element| exam.says_any(element, &["title", "title.short", "author"])) {
        let height = element.letter_height();
        if height > 0.0 && height < least - 0.005 {
            let message = format!(
                "the letters of {} are {} high; at arm's length they need {}",
                element.name(),
                mm(height),
                mm(least)
            );
            findings.element(Severity::Warning, element, message, "set it larger, in capitals, or shorter");
            findings.measured(height, &LEAST);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // Inter's x-height is 1118 of 2048 units (its OS/2 table): at 5.5 pt 1.06 mm, at 7 pt 1.35 mm;
    // round letters reach a little over it.
    #[test]
    fn small_letters_on_the_spine() {
        let said = &example(&RULE)[0].message;
        assert!(
            said.starts_with("the letters of `spine-title` are 1.0")
                || said.starts_with("the letters of `spine-title` are 1.1"),
            "{said}"
        );
        let larger = "panel spine { text a words=\"{title}\" { head safe 5; size 7; font Inter } }";
        assert_eq!(reported(&RULE, larger), []);
        let other = "panel spine { text a words=\"Tern Passage\" { head safe 5; size 5; font Inter } }";
        assert_eq!(reported(&RULE, other), []);
    }
}
