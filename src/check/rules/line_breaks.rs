//! Lines that break where a reader stumbles.
//!
//! Hyphens in a row make a ladder at the edge of a blurb; a name that is split is read twice; a last line of a syllable
//! looks like a slip.
//!
//! - more than two lines in a row that end in a hyphen of hyphenation: warning.
//! - a word of the title or of a name of the book split at the end of a line: warning.
//! - a last line of a paragraph of three lines or more that is only the end of a split word: warning.
//!
//! Common practice.
//!
//! ```kdl
//! panel back {
//!     text blurb words="Unquestionably extraordinary characterisation, incomprehensible misunderstandings and uncharacteristic reconciliations notwithstanding." {
//!         left 20; width 21; top 40; size 10; align justify; hyphenate #true; font "EB Garamond"
//!     }
//! }
//! ```
//!
//! Way out: another width or size, `hyphenate #false`, or the word in the style's `keep-whole`.

use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::visible::VisibleElement;
use crate::check::words::{excerpt, folded};
use crate::ground::Severity;
use crate::scene::{Kind, Media};
use std::collections::BTreeSet;

pub const RULE: CheckRule = CheckRule {
    name: "line-breaks",
    severity: Severity::Warning,
    media: Media::Both,
    limits: &[IN_A_ROW],
    source: include_str!("line_breaks.rs"),
    run,
};

const IN_A_ROW: RuleLimit =
    bare("in-a-row", "more lines in a row that end in a hyphen are a warning", "2", PRACTICE).most();
const LEAST_LINES: usize = 3;
const SOFT: char = '\u{AD}';
/// Shorter words of a title are words of the language.
const NAME: usize = 5;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let (names, limit) = (names(exam), findings.limit(&IN_A_ROW));
    for element in exam.of(Kind::Text) {
        let lines = element.lines();
        let split: Vec<bool> = lines.iter().map(|line| line.trim_end().ends_with(SOFT)).collect();
        let help = "try another width or size, or write `hyphenate #false`";
        let most = split.split(|split| !split).map(<[bool]>::len).max().unwrap_or(0);
        if most as f64 > limit {
            let message = format!("{most} lines in a row of {} end in a hyphen; the limit is {limit}", element.name());
            findings.element(Severity::Warning, element, message, help);
            findings.measured(most as f64, &IN_A_ROW);
        }
        let parted = lines.windows(2).zip(&split).filter(|(_, split)| **split).map(|(pair, _)| parted(pair));
        for (before, after) in
            parted.clone().filter(|(before, after)| names.contains(&folded(&format!("{before}{after}"))))
        {
            let message = format!("{} splits the name {before}-{after} at the end of a line", element.name());
            findings.element(Severity::Warning, element, message, "keep it whole: `keep-whole` in the style");
        }
        last_line(element, &lines, &split, findings);
    }
}

/// What stands of a split word before the break and after it.
fn parted(pair: &[String]) -> (&str, &str) {
    let before = pair[0].trim_end().trim_end_matches(SOFT);
    let before = before.rsplit(|letter: char| !letter.is_alphabetic()).next().unwrap_or_default();
    let after = pair[1].split(|letter: char| !letter.is_alphabetic()).next().unwrap_or_default();
    (before, after)
}

fn last_line(element: &VisibleElement<'_>, lines: &[String], split: &[bool], findings: &mut RuleFindings) {
    let at = lines.len();
    if at >= LEAST_LINES && split[at - 2] && !lines[at - 1].trim().contains(char::is_whitespace) {
        let message = format!("the last line of {} is only {:?}", element.name(), excerpt(lines[at - 1].trim()));
        findings.element(Severity::Warning, element, message, "change a word, the width or the size");
    }
}

/// The words of titles and names, folded.
fn names(exam: &Exam<'_>) -> BTreeSet<String> {
    let facts = ["title", "author", "translator", "illustrator", "publisher"];
    let words = exam.facts().book.words.iter();
    let named = words.filter(|(fact, _)| facts.contains(&fact.split('.').next().unwrap_or_default()));
    let words = named.flat_map(|(_, said)| said.value.split_whitespace().map(folded).collect::<Vec<_>>());
    words.filter(|word| word.chars().count() >= NAME).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn said(words: &str, width: u32, more: &str) -> Vec<String> {
        let cover = format!(
            "panel back {{ text a words={words:?} {{ left 20; width {width}; top 40; size 10; align justify; {more} }} }}"
        );
        reported(&RULE, &cover).into_iter().map(|found| found.message).collect()
    }

    #[test]
    fn a_ladder_of_hyphens() {
        let found = example(&RULE);
        assert!(
            found.iter().any(|found| found.message.contains("lines in a row of `blurb` end in a hyphen")),
            "{found:?}"
        );
    }

    #[test]
    fn a_name_is_kept_whole() {
        let words = "She wrote of Salt and Lanterns: Lanterns everywhere, Lanterns by the harbour and Lanterns at sea.";
        let narrow = said(words, 17, "hyphenate #true");
        assert!(narrow.iter().any(|found| found.contains("splits the name Lan-terns")), "{narrow:?}");
        assert_eq!(said(words, 60, "hyphenate #false"), [""; 0]);
    }
}
