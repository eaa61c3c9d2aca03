//! One word in two spellings.
//!
//! A name with and without its accent, and *grey* beside *gray*, are each right somewhere, and together look like haste.
//!
//! - two spellings on one cover that differ by accents alone, which the book's language does not have, such as *Sørholm* and
//!   *Sorholm* on an English or a German book: note. Words that differ by a language's own letters may be two words, and
//!   pass; so do words of fewer than 4 letters, and all of it in languages of which nobody here knows the letters.
//! - on an English book a British and an American spelling of one word, such as *colour* and *colors*: note. Words with a
//!   capital may be names, and pass. Quotations count: most houses set them in their own spelling.
//!
//! Common practice; the letters of languages, after Unicode CLDR, and the pairs of words are from memory. No dictionary is
//! bundled: see `jaconet explain word-list`.
//!
//! ```kdl
//! panel back {
//!     text blurb words="They met in Sørholm." { left safe; right safe; top 30 }
//!     text more words="The Sorholm papers." { left safe; right safe; top 60 }
//! }
//! ```
//!
//! Way out: one spelling, or a waiver with its reason where both are meant.

use crate::check::exam::Exam;
use crate::check::limit::{OURS, RuleLimit, bare as number};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::spellings::{bare, british_american, may_differ, words};
use crate::check::visible::VisibleElement;
use crate::ground::Severity;
use crate::scene::{Kind, Media};
use std::collections::BTreeMap;

pub const RULE: CheckRule = CheckRule {
    name: "two-spellings",
    severity: Severity::Note,
    media: Media::Both,
    limits: &[LETTERS],
    source: include_str!("two_spellings.rs"),
    run,
};

const LETTERS: RuleLimit =
    number("letters", "words with fewer letters are not compared by their accents", "4", OURS).most();
/// Of each word, so many spellings are compared; a text of ten thousand nonsense spellings costs no more.
const MOST_SPELLINGS: usize = 8;

/// A spelling, and the element that has it first.
type Spelling<'a> = (String, &'a VisibleElement<'a>);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let language = &exam.facts().book.language.value;
    let is_english = language.split('-').next().is_some_and(|tag| tag.eq_ignore_ascii_case("en"));
    let least = findings.limit(&LETTERS);
    let mut accents: BTreeMap<String, Vec<Spelling<'_>>> = BTreeMap::new();
    let mut sides: BTreeMap<&str, [Option<Spelling<'_>>; 2]> = BTreeMap::new();
    for element in exam.of(Kind::Text) {
        for word in words(&element.words()) {
            if is_english && let Some((british, is_british)) = british_american(&word) {
                let side = &mut sides.entry(british).or_default()[usize::from(is_british)];
                side.get_or_insert_with(|| (word.clone(), element));
            }
            let of_word = accents.entry(bare(&word)).or_default();
            let known = of_word.iter().any(|(spelling, _)| spelling.to_lowercase() == word.to_lowercase());
            if word.chars().count() as f64 >= least && !known && of_word.len() < MOST_SPELLINGS {
                of_word.push((word, element));
            }
        }
    }
    for spellings in accents.values() {
        let Some((first, others)) = spellings.split_first() else { continue };
        if let Some(other) = others.iter().find(|other| !may_differ(&first.0, &other.0, language)) {
            tell(first, other, findings);
        }
    }
    for pair in sides.values() {
        if let [Some(american), Some(british)] = pair {
            tell(american, british, findings);
        }
    }
}

/// Reported at the one that stands later in the file.
fn tell(one: &Spelling<'_>, other: &Spelling<'_>, findings: &mut RuleFindings) {
    let (first, last) = if one.1.origin.span <= other.1.origin.span { (one, other) } else { (other, one) };
    let place = if first.1.origin.span == last.1.origin.span { "itself".to_owned() } else { first.1.name() };
    let message = format!("{} says {:?}, and {place} {:?}", last.1.name(), last.0, first.0);
    let help = "spell it in one way; where both are meant, waive this with the reason";
    findings.element(Severity::Note, last.1, message, help);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn said(language: &str, words: &str) -> Vec<String> {
        let text = format!(
            "book {{ title \"T\"; author \"A\"; pages 320; language {language} }}
            panel back {{ text blurb words={words:?} {{ left safe; right safe; top 30; size 9 }} }}"
        );
        reported(&RULE, &text).into_iter().map(|finding| finding.message).collect()
    }

    #[test]
    fn one_word_in_two_spellings() {
        assert_eq!(example(&RULE)[0].message, "`more` says \"Sorholm\", and `blurb` \"Sørholm\"");
        let none: [String; 0] = [];
        assert_eq!(said("de", "Schon schön: der Bruder der Brüder"), none);
        assert_eq!(said("fr", "Ou est-ce là où la mère"), none);
        assert_eq!(said("en-GB", "A rose and a glass of rosé; Miss Gray in grey"), none);
        assert_eq!(said("en-GB", "The humour of it is humorous"), none);
        let grey = "`blurb` says \"grey\", and itself \"gray\"";
        assert_eq!(said("en-US", "Under a gray sky, a grey sea"), [grey]);
        assert_eq!(said("en-GB", "A humorist of great humour"), none);
        assert_eq!(said("ru", "Это герой, а это герои"), none);
        assert_eq!(said("de", "grey oder gray"), none);
        assert_eq!(said("xx", "Sørholm, Sorholm"), none);
        assert_eq!(said("en-GB", "Sørholm, SØRHOLM"), none);
    }
}
