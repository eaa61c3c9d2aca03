//! A book with an ISBN, and no bar code on its cover.
//!
//! Shops and warehouses take books in by their bar code; without one each copy gets a sticker, at the publisher's cost.
//!
//! - an ISBN in `book` and no `barcode` on any panel: warning. Common practice. On a case that goes into a jacket the code
//!   is on the jacket, so a case needs none.
//!
//! ```kdl
//! book { title "T"; author "A"; pages 320; isbn "978-1-83742-615-7" }
//! ```
//!
//! Way out: `barcode barcode { right safe; bottom safe; scale 100 }` in `panel back`.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::cover::{Binding, Element};
use crate::ground::Severity;
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "bar-code-missing",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[],
    source: include_str!("bar_code_missing.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let facts = exam.facts();
    if let Some(isbn) = &facts.book.isbn
        && exam.of(Kind::BarCode).next().is_none()
        && !any_bar_code(&exam.cover.elements)
        && facts.format.binding != Binding::Case
    {
        let message = format!("the book has the ISBN {} and its cover no bar code", isbn.value.shown());
        let help = "write `barcode barcode { right safe; bottom safe; scale 100 }` in `panel back`";
        findings.fact(Severity::Warning, isbn.span, message, help);
    }
}

/// One that has no true number to show counts, too: that is reported already.
fn any_bar_code(elements: &[Element]) -> bool {
    elements.iter().any(|element| element.body.kind() == Kind::BarCode || any_bar_code(element.body.inner()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::bars::trial::SampleBars;
    use crate::check::testing::{example, reported, reported_with};

    #[test]
    fn an_isbn_alone() {
        assert_eq!(example(&RULE).len(), 1);
    }

    #[test]
    fn with_bars_or_without_isbn_it_passes() {
        let without = "book { title \"T\"; author \"A\"; pages 320; }";
        assert_eq!(reported(&RULE, without), []);
        let book = "book { title \"T\"; author \"A\"; pages 320; isbn \"978-1-83742-615-7\" }";
        assert_eq!(reported_with(&RULE, book, SampleBars::default().items()), []);
        assert_eq!(reported(&RULE, "panel back { barcode barcode { right safe; bottom safe; scale 100 } }"), []);
    }
}
