//! Words with facts in them: `{title}` becomes what the book says.

use crate::assets::nearest;
use crate::cover::Book;
use crate::ground::{Findings, Span};

/// Fills in the facts. `{{` and `}}` stand for the braces themselves. With `chosen` a fact's chosen line breaks are
/// kept. An unknown or empty fact is an error at `span`.
pub fn fill(findings: &mut Findings, book: &Book, text: &str, span: Span, chosen: bool) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(['{', '}']) {
        out.push_str(&rest[..at]);
        let brace = &rest[at..=at];
        rest = &rest[at + 1..];
        if rest.starts_with(brace) {
            out.push_str(brace);
            rest = &rest[1..];
        } else if brace == "{"
            && let Some(end) = rest.find('}')
        {
            out.push_str(&fact(findings, book, rest[..end].trim(), span, chosen));
            rest = &rest[end + 1..];
        } else {
            let message = format!("a lone `{brace}`");
            findings.error(
                span,
                message,
                format!("a fact is written {{title}}; a brace itself is written {brace}{brace}"),
            );
        }
    }
    out.push_str(rest);
    out
}

/// Facts that many books have and some have not.
pub const USUAL: [&str; 11] = [
    "title",
    "subtitle",
    "author",
    "translator",
    "illustrator",
    "publisher",
    "isbn",
    "price",
    "in-series",
    "quote",
    "version",
];

fn fact(findings: &mut Findings, book: &Book, name: &str, span: Span, chosen: bool) -> String {
    if chosen && let Some(lines) = book.lines.get(name) {
        return lines.join("\n");
    }
    if let Some(word) = book.word(name) {
        return word.to_owned();
    }
    let state = if book.words.contains_key(name) { "is empty" } else { "is not stated in `book`" };
    let head = name.split('.').next().unwrap_or_default();
    let help = match nearest(name, book.words.keys().map(String::as_str)) {
        _ if USUAL.contains(&head) => {
            format!("state it there, or leave this element out where it is missing: when={name}")
        }
        Some(near) => format!("did you mean {{{near}}}?"),
        None => format!("state it there: `fact {name} \"…\"`"),
    };
    findings.error(span, format!("the fact {{{name}}} {state}"), help);
    String::new()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Spanned;

    #[test]
    fn facts_and_braces() {
        let mut book = Book::default();
        book.words.insert("title".into(), Spanned::new("Salt".into(), Span::default()));
        let mut findings = Findings::default();
        assert_eq!(fill(&mut findings, &book, "{title}: {{a}}", Span::default(), false), "Salt: {a}");
        assert!(findings.is_empty());
        assert_eq!(fill(&mut findings, &book, "{titel}", Span::default(), false), "");
        let finding = findings.iter().next().expect("an unknown fact is reported");
        assert!(finding.help.as_deref().is_some_and(|help| help.contains("{title}")));
    }
}
