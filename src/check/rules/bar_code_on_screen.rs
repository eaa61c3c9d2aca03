//! A bar code or a price on a front for screens.
//!
//! Nobody scans a screen, the number is that of the printed book, and shops set a price of their own, which changes.
//! Many of them refuse such pictures.
//!
//! - a bar code, with or without an add-on: error.
//! - words that state a price of the book: warning.
//!
//! Common practice of shops.
//!
//! ```kdl
//! format screen { pixels 1600 2560 }
//! panel front { barcode barcode { right safe; bottom safe; scale 100 } }
//! ```
//!
//! Way out: leave it out in this edition: `panel front { drop barcode }`.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "bar-code-on-screen",
    severity: Severity::Error,
    media: Media::Screens,
    limits: &[],
    source: include_str!("bar_code_on_screen.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let leave_out = |name: &str| format!("leave it out in this edition: `panel front {{ drop {name} }}`");
    for element in exam.of(Kind::BarCode) {
        let message = format!("{} is a bar code, and nobody scans a screen", element.name());
        findings.element(Severity::Error, element, message, leave_out(&element.origin.element));
    }
    let facts = exam.facts().book.words.iter();
    let is_price = |fact: &str| fact == "price" || fact.starts_with("price.");
    let prices: Vec<&str> = facts
        .filter(|(fact, found)| is_price(fact) && !found.value.trim().is_empty())
        .map(|(_, found)| &*found.value)
        .collect();
    for element in exam.of(Kind::Text) {
        let words = element.words();
        if let Some(price) = prices.iter().find(|price| words.contains(**price)) {
            let message = format!("{} states the price {price}, and shops set their own", element.name());
            findings.element(Severity::Warning, element, message, leave_out(&element.origin.element));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_bar_code() {
        assert_eq!(example(&RULE)[0].severity, Severity::Error);
    }

    #[test]
    fn a_price() {
        let cover = |words: &str| {
            format!(
                "book {{ title \"T\"; price GBP \"9.90\" }}\nformat screen {{ pixels 1600 2560 }}
                panel front {{ text a words={words:?} {{ left safe; right safe; top safe }} }}"
            )
        };
        let found = reported(&RULE, &cover("{price}, new"));
        assert_eq!(found.iter().map(|found| found.severity).collect::<Vec<_>>(), [Severity::Warning]);
        assert_eq!(reported(&RULE, &cover("{title}")), []);
    }
}
