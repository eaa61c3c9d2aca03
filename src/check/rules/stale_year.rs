//! A year in the words that does not go with the date of the cover.
//!
//! Covers are taken over from the last edition, and its year with them: an announcement of a book that came out long ago, a
//! copyright line of another year.
//!
//! - a year after ©, later than the stated date: warning.
//! - words that announce (*coming in*, *coming soon*, *forthcoming*, *out in*, *erscheint*, *à paraître*, *próximamente*, *in uscita*, *verschijnt*)
//!   and, within 40 letters, a year before that of the stated date: warning.
//!
//! The date is that of the `version`; without one nothing is asked. Common practice.
//!
//! ```kdl
//! book { title "T"; author "A"; pages 320; version 2 date="2026-04-02" }
//! panel back { text next words="The second part: coming in spring 2024." { left safe; right safe; top 40 } }
//! ```
//!
//! Way out: the year as it is now; or words that do not age: *Also by this author*.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::words::excerpt;
use crate::ground::Severity;
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "stale-year",
    severity: Severity::Warning,
    media: Media::Both,
    limits: &[],
    source: include_str!("stale_year.rs"),
    run,
};

const ANNOUNCING: [&str; 10] = [
    "coming in",
    "coming soon",
    "forthcoming",
    "out in",
    "erscheint",
    "à paraître",
    "próximamente",
    "in uscita",
    "verschijnt",
    "available from",
];
const NEAR: usize = 40;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let date = exam.facts().book.date.as_deref();
    let Some(stated) = date.and_then(|date| date.get(..4)?.parse::<u32>().ok()) else { return };
    for element in exam.of(Kind::Text) {
        // Blanks that do not break are blanks here.
        let words = element.words().split_whitespace().collect::<Vec<_>>().join(" ");
        let after_sign = words.match_indices('©').filter_map(|(at, sign)| year(&words[at + sign.len()..]));
        if let Some(year) = after_sign.max().filter(|year| *year > stated) {
            let message = format!("{} says © {year}, and the cover is dated {stated}", element.name());
            findings.element(Severity::Warning, element, message, "write the year of publication");
        }
        let small = words.to_lowercase();
        let announced = ANNOUNCING
            .iter()
            .flat_map(|word| small.match_indices(word).filter_map(|(at, word)| year(&small[at + word.len()..])));
        if let Some(year) = announced.min().filter(|year| *year < stated) {
            let message =
                format!("{} announces {year}, and the cover is dated {stated}: {:?}", element.name(), excerpt(&words));
            findings.element(Severity::Warning, element, message, "say it as it is now");
        }
    }
}

/// The first year within reach: four digits by themselves.
fn year(words: &str) -> Option<u32> {
    let near: String = words.chars().take(NEAR).collect();
    let mut numbers = near.split(|letter: char| !letter.is_alphanumeric());
    numbers.find_map(|word| word.parse::<u32>().ok().filter(|year| word.len() == 4 && (1900..2200).contains(year)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn last_edition_s_years() {
        assert!(example(&RULE)[0].message.starts_with("`next` announces 2024, and the cover is dated 2026"));
        let text = |words: &str| {
            let cover = format!(
                "book {{ title \"T\"; author \"A\"; pages 320; version 2 date=\"2026-04-02\" }}
                panel back {{ text a words={words:?} {{ left safe; right safe; top 40; size 10 }} }}"
            );
            reported(&RULE, &cover).len()
        };
        let said = [
            "© Tern Passage 2027",
            "© 2025 Tern Passage",
            "Coming in 2026",
            "Erscheint im Herbst 2025",
            "Winner of 2019",
            "Coming of age in 1940",
        ];
        assert_eq!(said.map(text), [1, 0, 0, 1, 0, 0]);
    }
}
