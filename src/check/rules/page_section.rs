//! A page count that does not fill whole sections.
//!
//! Books are folded from sheets of 4, 8, 16 or 32 pages. The rest of the last section is printed, folded and
//! paid for as blank pages, and makes the spine wider.
//!
//! - a page count that was rounded up to the format's `section`, or to the fours of stapled sheets: note, with the
//!   blank pages. Common practice.
//!
//! ```kdl
//! book { title "T"; author "A"; pages 317; }
//! format paperback { trim 129 198; paper caliper=0.12; section 16; }
//! ```
//!
//! Way out: fill the pages, cut the text, or take a smaller section.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "page-section",
    severity: Severity::Note,
    media: Media::Print,
    limits: &[],
    source: include_str!("page_section.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let pages = &exam.facts().book.pages;
    let bound = exam.cover.spine.pages;
    if bound > pages.value {
        let message = format!(
            "{} pages are bound as {bound}, in sections of {}: {}",
            pages.value,
            exam.facts().format.whole_section(),
            blank(bound - pages.value)
        );
        findings.fact(Severity::Note, pages.span, message, "the spine is computed with all of them");
    }
}

fn blank(pages: u32) -> String {
    if pages == 1 { "one stays blank".to_owned() } else { format!("{pages} stay blank") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn three_pages_over() {
        assert_eq!(example(&RULE)[0].message, "317 pages are bound as 320, in sections of 16: 3 stay blank");
    }

    #[test]
    fn whole_sections_pass() {
        assert_eq!(reported(&RULE, "format paperback { trim 129 198; section 16; }"), []);
    }
}
