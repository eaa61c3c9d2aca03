//! A picture for screens without a text for those who do not see it.
//!
//! Shops, libraries and reading systems read a picture's alternative text aloud. Where the file brings none, somebody writes
//! one without the cover's maker, or nobody does.
//!
//! - a cover for screens, or a picture for shops, and the book states no `alt-text`: note (WCAG 2, success criterion 1.1.1).
//! - one of more than 250 letters: note. The guide to the IPTC Photo Metadata Standard gives 250 as the most, from memory.
//!
//! The text goes into the picture by the standard's key `AltTextAccessibility`, and into pictures of the finished book. Whether
//! it says what is to be seen, nobody but a reader can tell.
//!
//! ```kdl
//! deliver { shop 1600 2456 }
//! panel front { band ground { swatch black; left fold; right bleed; top bleed; bottom bleed } }
//! ```
//!
//! Way out: `alt-text "A lantern on a dark quay; beyond it the lights of a ship."` in `book`.

use crate::check::exam::Exam;
use crate::check::limit::{RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "alt-text-missing",
    severity: Severity::Note,
    media: Media::Both,
    limits: &[LETTERS],
    source: include_str!("alt_text_missing.rs"),
    run,
};

const LETTERS: RuleLimit = bare(
    "letters",
    "an alternative text with more letters is a note",
    "250",
    "the guide to the IPTC Photo Metadata Standard, from memory",
)
.most();

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    if exam.screen().is_none() && exam.shop().is_none() {
        return;
    }
    let book = &exam.facts().book;
    let Some(text) = book.words.get("alt-text").filter(|text| !text.value.trim().is_empty()) else {
        let help = "say in `book` what the front shows: `alt-text \"A lantern on a dark quay.\"`";
        return findings.fact(
            Severity::Note,
            book.span,
            "the picture of the front has no text for those who do not see it",
            help,
        );
    };
    let letters = text.value.chars().count();
    let most = findings.limit(&LETTERS);
    if letters as f64 > most {
        let message = format!("the alternative text has {letters} letters; {most} are the most");
        let help = "say what the front shows in a sentence or two, and leave the rest to the book's description";
        findings.fact(Severity::Note, text.span, message, help);
        findings.measured(letters as f64, &LETTERS);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn said(alt_text: &str, deliver: &str) -> Vec<String> {
        let book = format!("book {{ title \"T\"; author \"A\"; pages 320; {alt_text} }}\n{deliver}");
        reported(&RULE, &book).into_iter().map(|finding| finding.message).collect()
    }

    #[test]
    fn a_picture_for_screens_says_what_it_shows() {
        assert_eq!(example(&RULE).len(), 1);
        assert_eq!(said("", "format screen { pixels 400 640 }").len(), 1);
        assert_eq!(said("alt-text \" \"", "deliver { shop 400 640 }").len(), 1);
        assert_eq!(said("alt-text \"A lantern.\"", "deliver { shop 400 640 }"), Vec::<String>::new());
        assert_eq!(said("", "deliver { flat ppi=100 }"), Vec::<String>::new(), "nothing is made for screens");
        let long = |letters: usize| said(&format!("alt-text \"{}\"", "é".repeat(letters)), "deliver { shop 400 640 }");
        assert_eq!(long(250), Vec::<String>::new());
        assert_eq!(long(251), ["the alternative text has 251 letters; 250 are the most"]);
    }
}
