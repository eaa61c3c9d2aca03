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
use crate::check::rule::{CheckRule, RuleFindings};
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
    let said: Vec<String> = exam.of(Kind::Text).map(|element| folded(&element.words())).collect();
    let stands = |price: &str| said.iter().any(|said| said.contains(&folded(price)));
    let (printed, missing): (Vec<_>, Vec<_>) = prices.into_iter().partition(|(_, price)| stands(&price.value));
    let Some((_, shown)) = printed.first() else { return };
    for (fact, price) in missing {
        let message = format!("the price {} stands nowhere on the cover; {} does", price.value, shown.value);
        let help =
            format!("print it beside the other, `words=\"{{{fact}}}\"`, or state it in the edition that prints it");
        findings.fact(Severity::Note, price.span, message, help);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn one_of_two_prices() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1);
        assert!(found[0].message.starts_with("the price €14.99 stands nowhere"), "{}", found[0].message);
        let cover = |words: &str| {
            let book = "book { title \"T\"; author \"A\"; pages 320; price GBP \"12.99\"; price EUR \"14.99\" }";
            let text = format!("text a words={words:?} {{ left safe; right safe; bottom safe; size 8 }}");
            reported(&RULE, &format!("{book}\npanel back {{ {text} }}")).len()
        };
        assert_eq!(["{price.GBP} / {price.EUR}", "A novel"].map(cover), [0, 0]);
    }
}
