//! Usual: facts that many books have and some have not, as `book` declares them.

use crate::assets::nearest;
use crate::cover::Book;
use crate::ground::{Finding, Severity, Span};
use crate::language::nodes::book::{BOOK, LANGUAGE};
use crate::source::{KnownBy, Word};

/// The facts that words of `book` state.
pub fn usual_facts() -> impl Iterator<Item = &'static str> {
    // Facts with a name are not called by their word, and no text prints a language tag.
    let called = |word: &&Word| word.known_by != KnownBy::Name && word.name != LANGUAGE.name;
    BOOK.inside().filter(called).map(|word| word.name)
}

/// What belongs to any of them: `short` in `{title.short}`, `by` in `{quote.by}`.
pub fn tails() -> impl Iterator<Item = &'static str> {
    BOOK.inside().flat_map(|word| word.properties.iter().chain(word.inside())).map(|part| part.name)
}

/// Whether some books have a fact of this name: `quote.2.by`, `price.EUR`.
pub fn is_usual(name: &str) -> bool {
    let mut parts = name.split('.');
    let listed = |part: &str| part.starts_with(|first: char| first.is_ascii_digit() || first.is_ascii_uppercase());
    parts.next().is_some_and(|head| usual_facts().any(|usual| usual == head))
        && parts.all(|part| tails().any(|tail| tail == part) || listed(part))
}

/// What to say of a fact that the book does not state and that is none of the usual ones; `outcome` is what comes of it.
/// A name that is nearly that of a fact is a slip.
pub fn unknown(book: &Book, name: &str, span: Span, outcome: &str) -> Option<Finding> {
    let head = name.split('.').next().unwrap_or_default();
    if book.words.contains_key(name) || usual_facts().any(|usual| usual == head) {
        return None;
    }
    let mut known: Vec<&str> = book.words.keys().map(String::as_str).collect();
    usual_facts().for_each(|usual| known.push(usual));
    let (severity, meant) = match nearest(name, known.into_iter()) {
        Some(near) => (Severity::Warning, format!("did you mean `{near}`? If not, ")),
        None => (Severity::Note, "if it should be, ".to_owned()),
    };
    let message = format!("the book does not state `{name}`, {outcome}");
    Some(Finding::new(severity, "language", span, message).help(format!("{meant}state it empty: `fact {name} \"\"`")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn usual_facts_are_those_of_the_book() {
        for name in ["title", "title.short", "quote.2.by", "price.EUR", "author.3"] {
            assert!(is_usual(name), "{name}");
        }
        for name in ["strapline", "quote.bye", "titel", "title.shrt", "language", "fact"] {
            assert!(!is_usual(name), "{name}");
        }
    }
}
