//! A price of the book that stands nowhere on the cover, beside one that does.
//!
//! A cover for several markets prints all its prices. The one that was added last is in the book's facts and not in the line on
//! the back.
//!
//! - of several prices stated in `book`, at least one stands in words of the cover, and this one does not: note. Common
//!   practice. An edition for one market may mean it.
//!
//! Whether the bars and the printed price agree is `facts-disagree`.
//!
//! ```kdl
//! book { title "T"; author "A"; pages 320; price GBP "12.99"; price EUR "14.99" }
//! panel back { text price words="{price.GBP}" { left safe; right safe; bottom safe } }
//! ```
//!
//! Way out: print it too, `words="{price.GBP} · {price.EUR}"`; or state it only in the edition that prints it.

use crate::check::exam::Exam;
use crate::check::prices::{Price, digit, hundredths, prices as amounts_in};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::visible::VisibleElement;
use crate::check::words::folded;
use crate::ground::Severity;
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "price-missing",
    severity: Severity::Note,
    media: Media::Print,
    limits: &[],
    source: include_str!("price_missing.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let prices = exam.facts().book.words.iter().filter(|(fact, _)| fact.starts_with("price."));
    let prices: Vec<_> = prices.filter(|(_, price)| !folded(&price.value).is_empty()).collect();
    if prices.len() < 2 {
        return;
    }
    let said: Vec<String> = exam.of(Kind::Text).map(VisibleElement::words).collect();
    let amounts: Vec<Price> = said.iter().flat_map(|words| amounts_in(words, &exam.facts().book.currencies)).collect();
    let is_printed = |fact: &str, price: &str| {
        let currency = fact.trim_start_matches("price.");
        let same = |amount: &Price| amount.currencies.iter().any(|code| code == currency);
        amounts.iter().any(|amount| same(amount) && Some(amount.hundredths) == hundredths(price))
            || said.iter().any(|words| stands_alone(words, price))
    };
    let (printed, missing): (Vec<_>, Vec<_>) =
        prices.into_iter().partition(|(fact, price)| is_printed(fact, &price.value));
    let Some((_, shown)) = printed.first() else { return };
    for (fact, price) in missing {
        let message = format!("the price {} is not printed on the cover; {} is", price.value, shown.value);
        let help =
            format!("print it beside the other, `words=\"{{{fact}}}\"`, or state it in the edition that prints it");
        findings.fact(Severity::Note, price.span, message, help);
    }
}

/// Whether words print a price as it is written, and not as a part of a longer number: a round sum within a sentence is
/// not taken for a price there.
fn stands_alone(words: &str, price: &str) -> bool {
    let goes_on = |letter: Option<char>| letter.is_some_and(|letter| digit(letter).is_some());
    words
        .match_indices(price)
        .any(|(at, _)| !goes_on(words[..at].chars().next_back()) && !goes_on(words[at + price.len()..].chars().next()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn one_of_two_prices() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1);
        assert!(found[0].message.starts_with("the price €14.99 is not printed"), "{}", found[0].message);
        let cover = |words: &str| {
            let book = "book { title \"T\"; author \"A\"; pages 320; price GBP \"12.99\"; price EUR \"14.99\" }";
            let text = format!("text a words={words:?} {{ left safe; right safe; bottom safe; size 8 }}");
            reported(&RULE, &format!("{book}\npanel back {{ {text} }}")).len()
        };
        assert_eq!(["{price.GBP} / {price.EUR}", "A novel"].map(cover), [0, 0]);
        // 14.99 within another sum is another sum; the same sum in another way of writing is the same.
        assert_eq!(["£12.99 / €114.99", "£12.99 / 14,99 €", "£12.99 978-1499"].map(cover), [1, 0, 1]);
    }
}
