//! Slips of typing in set words.
//!
//! Straight quotes, double blanks, hyphens for dashes and doubled words come in with copy typed in a hurry, and look like
//! it on a cover.
//!
//! - straight quotes and apostrophes; hyphens between blanks, or two in a row, for a dash: warning. Two blanks in a row:
//!   note. Common practice. Feet and inches after a figure pass, and so do marks between Hebrew letters.
//! - a quotation that opens with the marks of another language than its text's, such as “ in German or „ in English: note. Marks
//!   that some houses of a country use pass. A text that states no `language` has the book's.
//! - a small word twice in a row, such as *the the*, in English, French, German, Spanish, Italian, Portuguese or Dutch:
//!   warning. Words that may stand twice, such as *that that* and *nous nous*, pass.
//!
//! ```kdl
//! panel back {
//!     text quote words="\"A marvel\" - The Osselby Review" { left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: ‘ ’ “ ” for quotes, or your language's own; – or — for dashes.

use crate::check::exam::Exam;
use crate::check::quote_marks::foreign_opening;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::text_languages::text_languages;
use crate::check::words::{excerpt, runs_leftwards};
use crate::ground::Severity;
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "copy-marks",
    severity: Severity::Warning,
    media: Media::Both,
    limits: &[],
    source: include_str!("copy_marks.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let languages = text_languages(exam);
    for element in exam.of(Kind::Text) {
        let words = element.words();
        let (mut found, mut help) = (Vec::new(), Vec::new());
        let mut severity = Severity::Note;
        if let Some(at) = straight(&words) {
            let (what, way) = straight_way(&words, at);
            found.push(format!("{what} in {:?}", around(&words, at)));
            help.push(way);
            severity = Severity::Warning;
        }
        if let Some(at) = words.find(" - ").or_else(|| words.find("--")) {
            found.push(format!("a hyphen for a dash in {:?}", around(&words, at)));
            help.push("write – or — for a dash");
            severity = Severity::Warning;
        }
        // Where a text may be set in several languages, a mark of any of them passes.
        let languages = languages.get(&element.origin.span).map(Vec::as_slice).unwrap_or_default();
        let foreign: Option<Vec<_>> = languages.iter().map(|language| foreign_opening(&words, language)).collect();
        if let Some((at, mark, own)) = foreign.and_then(|found| found.first().copied()) {
            let own: Vec<String> = own.chars().map(String::from).collect();
            let wanted = own.join(" ");
            found.push(format!(
                "{mark} before a quotation, where its language has {wanted}, in {:?}",
                around(&words, at)
            ));
            help.push("write the marks of the text's language, or state its own: `language …`");
        }
        if let Some(at) = words.find("  ") {
            found.push(format!("two blanks in {:?}", around(&words, at)));
            help.push("take one blank away");
        }
        if let Some(at) = doubled(&words) {
            found.push(format!("a word twice in {:?}", around(&words, at)));
            help.push("take one of the two words away");
            severity = Severity::Warning;
        }
        if !found.is_empty() {
            let message = format!("{} has {}", element.name(), found.join(" and "));
            findings.element(severity, element, message, help.join("; "));
        }
    }
}

/// What a straight mark is, and what to write in its place: between letters it is an apostrophe.
fn straight_way(words: &str, at: usize) -> (&'static str, &'static str) {
    let letter = |found: Option<char>| found.is_some_and(char::is_alphabetic);
    let between = letter(words[..at].chars().next_back()) && letter(words[at + 1..].chars().next());
    if between && words[at..].starts_with('\'') {
        ("a straight apostrophe", "write ’ for it, or have the signs of the keyboard set: `signs quotes`")
    } else if words[at..].starts_with('\'') {
        (
            "a straight quote or apostrophe",
            "write ’ for an apostrophe and the marks of the language, such as “ ”, for a quote, or have them set: `signs quotes`",
        )
    } else {
        ("a straight quote", "write the marks of the language, such as “ ”, or have them set: `signs quotes`")
    }
}

/// Words that no sentence has twice in a row.
const SMALL: [&str; 52] = [
    "the", "a", "an", "of", "to", "and", "with", "for", "from", "at", "by", "or", "but", "this", "its", "their", "his",
    "le", "la", "les", "du", "des", "un", "une", "et", "dans", "pour", "und", "ein", "eine", "mit", "von", "zu", "im",
    "auf", "für", "ist", "el", "los", "las", "una", "y", "en", "con", "il", "gli", "di", "per", "het", "een", "van",
    "os",
];

/// The second of two small words that are one.
fn doubled(words: &str) -> Option<usize> {
    let (mut last, mut from) = (None, 0);
    for word in words.split_whitespace() {
        let at = from + words[from..].find(word)?;
        if last == Some(word) && SMALL.contains(&word) {
            return Some(at);
        }
        (last, from) = (Some(word), at + word.len());
    }
    None
}

/// The first straight quote that is neither feet nor inches nor a Hebrew mark of abbreviation.
fn straight(words: &str) -> Option<usize> {
    words.char_indices().filter(|(_, letter)| matches!(letter, '"' | '\'')).map(|(at, _)| at).find(|at| {
        let before = words[..*at].chars().next_back();
        !before.is_some_and(|letter| letter.is_ascii_digit() || runs_leftwards(letter))
    })
}

/// A few words on both sides.
fn around(words: &str, at: usize) -> String {
    let before: String = words[..at].chars().rev().take(12).collect::<Vec<_>>().into_iter().rev().collect();
    let after: String = words[at..].chars().take(14).collect();
    excerpt(&(before + &after))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn quotes_and_a_dash() {
        let stated = example(&RULE);
        assert_eq!(stated.len(), 1);
        assert!(stated[0].message.contains("a straight quote") && stated[0].message.contains("a hyphen for a dash"));
        assert_eq!(stated[0].severity, Severity::Warning);
    }

    // Every slip has the way out that is its own.
    #[test]
    fn every_slip_has_its_own_way_out() {
        for (words, what, way) in [
            ("The Clerk's Book", "a straight apostrophe", "write ’ for it"),
            ("'The' Clerk", "a straight quote", "such as “ ”"),
            ("Salt - Sand", "a hyphen for a dash", "write – or — for a dash"),
            ("Salt  and sand", "two blanks", "take one blank away"),
            ("Salt and and sand", "a word twice", "take one of the two words away"),
        ] {
            let text =
                format!("panel front {{ text a words={words:?} {{ left safe; right safe; top safe; size 9 }} }}");
            let said = reported(&RULE, &text);
            let help = said[0].help.as_deref().expect("a way out");
            assert!(said[0].message.contains(what) && help.contains(way) && !help.contains("; "), "{words}: {help}");
        }
        let set = "panel front { text a words=\"The Clerk's Book\" { left safe; right safe; top safe; size 9; signs quotes } }";
        assert_eq!(reported(&RULE, set), []);
    }

    #[test]
    fn quotation_marks_of_another_language() {
        let stating = |language: &str, own: &str, words: &str| -> Vec<(Severity, String)> {
            let book = format!("book {{ title \"T\"; author \"A\"; pages 320; language {language} }}");
            let text = format!("text a words={words:?} {{ left safe; right safe; top safe; size 9; {own} }}");
            let found = reported(&RULE, &format!("{book}\npanel back {{ {text} }}"));
            found.into_iter().map(|found| (found.severity, found.message)).collect()
        };
        let stated = |language: &str, words: &str| stating(language, "", words);
        assert_eq!(stated("de", "„Ein Wunder“ sagte sie"), []);
        let message = "`a` has “ before a quotation, where its language has „ ‚ » › « ‹, in \"“Ein Wunder”\"";
        assert_eq!(stated("de", "“Ein Wunder”"), [(Severity::Note, message.to_owned())]);
        assert_eq!(stating("en-GB", "language de", "“Ein Wunder”"), [(Severity::Note, message.to_owned())]);
        assert_eq!(stating("en-GB", "language de", "„Ein Wunder“"), []);
    }

    #[test]
    fn a_word_twice() {
        let stated = |words: &str| {
            let cover =
                format!("panel back {{ text a words={words:?} {{ left safe; right safe; top safe; size 9 }} }}");
            reported(&RULE, &cover).len()
        };
        assert_eq!(stated("A novel of the the sea"), 1);
        assert_eq!(stated("Der Mond und\nund das Meer"), 1);
        for words in ["All that that was", "Nous nous levons", "the, the", "Bye bye", "The the"] {
            assert_eq!(stated(words), 0, "{words}");
        }
    }

    #[test]
    fn proper_marks_pass() {
        let words = "‘A marvel’ – of 6' 2\" and well-made, by O’Hara";
        let cover = format!("panel back {{ text a words={words:?} {{ left safe; right safe; top safe }} }}");
        assert_eq!(reported(&RULE, &cover), []);
        assert_eq!(straight("צה\"ל"), None);
    }
}
