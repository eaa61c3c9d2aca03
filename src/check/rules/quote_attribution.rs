//! A quotation that does not say who said it.
//!
//! Praise without a name is worth little, and a paper that is quoted expects to be named. Quotations are also what gets moved
//! and cut late, and their names are left behind.
//!
//! - a `quote` of the book whose words stand on the cover, and which states neither `by` nor `source`: warning.
//! - one that states them, and neither stands in any words of the cover: warning.
//!
//! Common practice. Found by the facts: a quotation typed into a text as words is not seen.
//!
//! ```kdl
//! book { title "T"; author "A"; pages 320; quote "A marvel of a book." }
//! panel back { text praise words="{quote}" { left safe; right safe; top safe 20 } }
//! ```
//!
//! Way out: `quote "…" by="E. Rowe" source="The Osselby Review"`, and `words="{quote.by}, {quote.source}"` beneath it.

use crate::check::exam::Exam;
use crate::check::phrases::Phrases;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::words::{excerpt, folded};
use crate::ground::Severity;
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "quote-attribution",
    severity: Severity::Warning,
    media: Media::Both,
    limits: &[],
    source: include_str!("quote_attribution.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let book = &exam.facts().book;
    let is_quote = |fact: &str| {
        let number = fact.strip_prefix("quote").map(|rest| rest.trim_start_matches('.'));
        number.is_some_and(|number| number.chars().all(|letter| letter.is_ascii_digit()))
    };
    let quotes: Vec<_> = book.words.iter().filter(|(fact, _)| is_quote(fact)).collect();
    if quotes.is_empty() {
        return;
    }
    let texts: Vec<_> = exam.of(Kind::Text).collect();
    let said: Vec<String> = texts.iter().map(|element| folded(&element.words())).collect();
    // A catalogue may hold quotations by the thousand.
    let phrases = Phrases::of(said.iter().map(String::as_str));
    let stands = |words: &str| {
        let words = folded(words);
        if words.is_empty() { None } else { phrases.text_with(&words).map(|at| texts[at]) }
    };
    for (fact, quote) in quotes {
        let Some(element) = stands(&quote.value) else { continue };
        let names = ["by", "source"].map(|part| book.word(&format!("{fact}.{part}")));
        let words = excerpt(&quote.value);
        if names.iter().all(Option::is_none) {
            let message = format!("{} quotes {words:?}, and nothing says who said it", element.name());
            let help = "state it in `book`: `quote \"…\" by=\"E. Rowe\" source=\"The Osselby Review\"`";
            findings.element(Severity::Warning, element, message, help);
        } else if names.iter().flatten().all(|name| stands(name).is_none()) {
            let message = format!("{} quotes {words:?}, and the cover does not name who said it", element.name());
            let help = format!("print it beneath: `words=\"{{{fact}.by}}, {{{fact}.source}}\"`");
            findings.element(Severity::Warning, element, message, help);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn praise_without_a_name() {
        assert!(example(&RULE)[0].message.ends_with("and nothing says who said it"));
        let cover = |more: &str| {
            format!(
                "book {{ title \"T\"; author \"A\"; pages 320; quote \"A marvel of a book.\" by=\"E. Rowe\" source=\"The Osselby Review\" }}
                panel back {{ text praise words=\"“{{quote}}”\" {{ left safe; right safe; top safe 20 }}; {more} }}"
            )
        };
        let named = "text by words=\"E. Rowe\" { left safe; right safe; top safe 60 }";
        assert_eq!(reported(&RULE, &cover("")).len(), 1);
        assert_eq!(reported(&RULE, &cover(named)), []);
        assert_eq!(reported(&RULE, &cover("").replace("{quote}", "Another thing")), []);
    }
}
