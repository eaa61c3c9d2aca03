//! Placeholder words that were never replaced.
//!
//! Whole editions have been printed with dummy words in them: nobody rereads a blurb that has been there for months.
//!
//! - *lorem ipsum*, `xxx`, `TK`, `TBC`, `TBA`, `000-0`, braces left over, *Author Name*, *Book Title* and their like, in any
//!   words of the cover: error. A price of 99.99: warning, since it may be real. Common practice.
//!
//! ```kdl
//! panel back {
//!     text quote words="‘Quote TK’" { left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: put in the real words. If they are still to come, use `stand-in words=80`, which cannot be overlooked.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::words::excerpt;
use crate::ground::Severity;
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "placeholder-left",
    severity: Severity::Error,
    media: Media::Both,
    limits: &[],
    source: include_str!("placeholder_left.rs"),
    run,
};

/// Anywhere, in any letters.
const PHRASES: [&str; 14] = [
    "lorem ipsum",
    "dolor sit amet",
    "author name",
    "author’s name",
    "name of author",
    "book title",
    "title here",
    "subtitle here",
    "text here",
    "blurb here",
    "quote here",
    "to come here",
    "{{",
    "}}",
];
/// As whole words, in capitals as they stand.
const MARKS: [&str; 6] = ["TK", "TKTK", "TKTKTK", "TBC", "TBA", "TBD"];

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for element in exam.elements.iter().filter(|element| element.runs().next().is_some()) {
        let words = element.words();
        if let Some((found, severity)) = placeholder(&words) {
            let message = format!("{} contains placeholder words: {found:?} in {:?}", element.name(), excerpt(&words));
            findings.element(severity, element, message, "replace them with the real words");
        }
    }
}

fn placeholder(words: &str) -> Option<(String, Severity)> {
    let small = words.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let phrase = PHRASES.iter().find(|phrase| small.contains(*phrase)).map(|phrase| (*phrase).to_owned());
    let parted = || words.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    let mark = || parted().find(|word| MARKS.contains(word)).map(str::to_owned);
    // XXX in capitals is thirty.
    let crosses = |word: &&str| word.len() >= 3 && word.chars().all(|c| c == 'x' || c == 'X') && (*word != "XXX");
    let crossed = || parted().find(crosses).map(str::to_owned);
    let noughts = || small.contains("000-0").then(|| "000-0".to_owned());
    if let Some(found) = phrase.or_else(mark).or_else(crossed).or_else(noughts) {
        return Some((found, Severity::Error));
    }
    ["99.99", "99,99"]
        .iter()
        .find(|price| is_amount(words, price))
        .map(|price| ((*price).to_owned(), Severity::Warning))
}

/// Not within a longer number.
fn is_amount(words: &str, price: &str) -> bool {
    words.match_indices(price).any(|(at, _)| {
        let digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
        !digit(words[..at].chars().next_back()) && !digit(words[at + price.len()..].chars().next())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_quote_to_come() {
        assert_eq!(example(&RULE)[0].message, "`quote` contains placeholder words: \"TK\" in \"‘Quote TK’\"");
    }

    #[test]
    fn each_of_them() {
        for words in ["Lorem\nipsum", "xxx", "Date TBC", "ISBN 978-0-000-00000-0", "AUTHOR NAME", "{{title}}"] {
            assert!(matches!(placeholder(words), Some((_, Severity::Error))), "{words}");
        }
        assert!(matches!(placeholder("£99.99"), Some((_, Severity::Warning))));
    }

    #[test]
    fn true_words_pass() {
        for words in ["Chapter XXX", "TKO in the ninth", "£199.99", "The tbilisi xx", "A book, titled so"] {
            assert_eq!(placeholder(words).map(|found| found.0), None, "{words}");
        }
        assert_eq!(reported(&RULE, "panel front { text a words=\"{title}\" { left safe; right safe; top safe } }"), []);
    }
}
