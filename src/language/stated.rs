//! Stated: which facts the book states, and what is read of an element that is left out.

use crate::cover::Facts;
use crate::ground::{Severity, Span};
use crate::language::context::{Context, Desk};
use crate::language::usual::unknown;
use crate::source::{Datum, Value};
use std::cell::RefCell;

/// Whether the fact that a `when=` asks for is stated; a name that is nearly that of a fact is a slip.
pub fn is_stated(value: &Value, context: &Context<'_>) -> bool {
    let Datum::Text(name) = &value.datum else {
        let message = format!("`when=` names a fact, not {}", value.shown());
        context.desk.findings.borrow_mut().error(value.span, message, "write when=subtitle, or when=quote");
        return true;
    };
    if let Some(fact) = negated(name) {
        let message = format!("`when=` asks whether a fact is stated, never whether it is not: {name:?} is not a fact");
        context.desk.findings.borrow_mut().error(value.span, message, format!("write unless={fact}"));
        return true;
    }
    let finding = unknown(&context.facts.book, name, value.span, "so this is left out");
    context.desk.findings.borrow_mut().extend(finding);
    context.facts.book.word(name).is_some()
}

/// Whether the fact that an `unless=` asks for is stated; a name that is nearly that of a fact is a slip.
pub fn is_there(value: &Value, context: &Context<'_>) -> bool {
    let Datum::Text(name) = &value.datum else {
        let message = format!("`unless=` names a fact, not {}", value.shown());
        context.desk.findings.borrow_mut().error(value.span, message, "write unless=subtitle, or unless=quote");
        return false;
    };
    let finding = unknown(&context.facts.book, name, value.span, "so this stands here");
    context.desk.findings.borrow_mut().extend(finding.filter(|finding| finding.severity == Severity::Warning));
    context.facts.book.word(name).is_some()
}

/// The fact that a `when=` wants to be lacking: `!subtitle`, `not subtitle`.
fn negated(name: &str) -> Option<&str> {
    let fact = name.strip_prefix('!').or_else(|| name.strip_prefix("not "))?.trim();
    (!fact.is_empty()).then_some(fact)
}

/// What is left out is read anyway, as if its fact were stated, so that its slips are reported today.
pub fn suppose(name: &str, span: Span, context: &Context<'_>, read: impl FnOnce(&Context<'_>)) {
    // A bar code cannot be read without a true number.
    if name.starts_with("isbn") {
        return;
    }
    let facts = Facts { book: context.facts.book.supposing(name, span), ..context.facts.clone() };
    unseen(&Context { facts: &facts, ..*context }, read);
}

/// What is left out is read anyway, for its slips.
pub fn unseen(context: &Context<'_>, read: impl FnOnce(&Context<'_>)) {
    let scratch = RefCell::default();
    let desk = Desk { findings: &scratch, ..context.desk };
    read(&Context { desk, ..*context });
    let reported = scratch.into_inner();
    context.desk.findings.borrow_mut().extend(reported.iter().filter(|finding| finding.rule == "language").cloned());
}
