//! Stated: which facts the book states, and what is read of an element that is left out.

use crate::assets::nearest;
use crate::cover::Facts;
use crate::ground::{Finding, Severity, Span};
use crate::language::context::{Context, Desk};
use crate::language::usual::usual_facts;
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
        let message = format!("`when=` asks whether a fact is stated, never whether it is not: {name:?} is no fact");
        let help = format!(
            "leave `when` out; or state a fact of your own where `{fact}` is missing, `fact without-{fact} \"yes\"` in \
             `book`, and write when=without-{fact}"
        );
        context.desk.findings.borrow_mut().error(value.span, message, help);
        return true;
    }
    let words = &context.facts.book.words;
    let head = name.split('.').next().unwrap_or_default();
    if !words.contains_key(name) && !usual_facts().any(|usual| usual == head) {
        let mut known: Vec<&str> = words.keys().map(String::as_str).collect();
        usual_facts().for_each(|usual| known.push(usual));
        let (severity, meant) = match nearest(name, known.into_iter()) {
            Some(near) => (Severity::Warning, format!("did you mean `{near}`? If not, ")),
            None => (Severity::Note, "if it should be, ".to_owned()),
        };
        let message = format!("the book does not state `{name}`, so this is left out");
        let help = format!("{meant}state it empty: `fact {name} \"\"`");
        context.desk.findings.borrow_mut().push(Finding::new(severity, "language", value.span, message).help(help));
    }
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
    let scratch = RefCell::default();
    let desk = Desk { findings: &scratch, ..context.desk };
    read(&Context { desk, facts: &facts, ..*context });
    let told = scratch.into_inner();
    context.desk.findings.borrow_mut().extend(told.iter().filter(|finding| finding.rule == "language").cloned());
}
