//! Words with facts in them: `{title}` becomes what the book says.

use crate::assets::nearest;
use crate::cover::Book;
use crate::ground::{Findings, Span, Spanned};
use crate::language::usual::{is_usual, unknown, usual_facts};
use std::cell::RefCell;
use std::ops::Range;

/// Fills in the facts. `{{` and `}}` stand for the braces themselves. What stands in brackets with a fact is left out where
/// the book does not state it; `[[` and `]]` around a fact stand for the brackets themselves. With `chosen` a fact's chosen line breaks are
/// kept. An unknown or empty fact is an error where it stands; `place` tells where any bytes of the words do.
pub fn fill(
    findings: &mut Findings,
    book: &Book,
    text: &str,
    place: &dyn Fn(Range<usize>) -> Span,
    chosen: bool,
) -> String {
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    while let Some(found) = text[at..].find(['{', '}', '[']).map(|found| at + found) {
        out.push_str(&text[at..found]);
        let brace = &text[found..=found];
        at = found + 1;
        if brace == "[" {
            let Some(part) = Bracketed::at(text, found) else {
                out.push('[');
                continue;
            };
            at = part.end;
            let inside = |range: Range<usize>| place(part.inner.start + range.start..part.inner.start + range.end);
            let words = &text[part.inner.clone()];
            if part.plain || part.is_stated(findings, book, words, &inside) {
                let words = fill(findings, book, words, &inside, chosen);
                let (open, close) = if part.plain { ("[", "]") } else { ("", "") };
                out.extend([open, &words, close]);
            }
        } else if text[at..].starts_with(brace) {
            out.push_str(brace);
            at += 1;
        } else if brace == "{"
            && let Some(end) = text[at..].find('}').map(|end| at + end)
        {
            out.push_str(&fact(findings, book, text[at..end].trim(), place(found..end + 1), chosen));
            at = end + 1;
        } else {
            let message = format!("a lone `{brace}`");
            findings.error(
                place(found..at),
                message,
                format!("a fact is written {{title}}; a brace itself is written {brace}{brace}"),
            );
        }
    }
    out.push_str(&text[at..]);
    out
}

/// Words in brackets that name facts.
struct Bracketed {
    inner: Range<usize>,
    /// After the closing bracket.
    end: usize,
    /// Written with two brackets: they are printed, and the words are no optional part.
    plain: bool,
}

impl Bracketed {
    /// Those that begin here; brackets around anything else are brackets.
    fn at(text: &str, start: usize) -> Option<Bracketed> {
        let plain = text[start..].starts_with("[[");
        let (open, close) = if plain { ("[[", "]]") } else { ("[", "]") };
        let from = start + open.len();
        let inner = from..from + text[from..].find(close)?;
        let words = &text[inner.clone()];
        (!words.contains('[') && !named(words).is_empty()).then(|| Bracketed {
            end: inner.end + close.len(),
            inner,
            plain,
        })
    }

    /// Whether the book states every fact in them.
    fn is_stated(
        &self,
        findings: &mut Findings,
        book: &Book,
        words: &str,
        place: &dyn Fn(Range<usize>) -> Span,
    ) -> bool {
        let names = named(words);
        let place = place(0..self.inner.len());
        findings.extend(names.iter().filter_map(|name| unknown(book, name, place, "so this part is left out")));
        names.iter().all(|name| book.word(name).is_some())
    }
}

/// A file's path with facts in it: `art/{stem}.png`. None where a fact is missing, which has been reported, or where facts
/// are only supposed: no file is called so.
pub fn fill_path(findings: &RefCell<Findings>, book: &Book, path: &Spanned<String>) -> Option<Spanned<String>> {
    let mut stated = Findings::default();
    let filled = fill(&mut stated, book, &path.value, &|_| path.span, false);
    let sound = !stated.has_errors();
    findings.borrow_mut().extend(stated.iter().cloned());
    let named_by_facts = filled != path.value;
    (sound && !(book.supposed && named_by_facts)).then(|| Spanned::new(filled, path.span))
}

/// The facts that words need, in their order; those of optional parts are not needed.
pub fn facts_in(text: &str) -> Vec<&str> {
    let mut names = Vec::new();
    let (mut from, mut at) = (0, 0);
    while let Some(found) = text[at..].find('[').map(|found| at + found) {
        at = found + 1;
        if let Some(part) = Bracketed::at(text, found) {
            at = part.end;
            if !part.plain {
                names.extend(named(&text[from..found]));
                from = part.end;
            }
        }
    }
    names.extend(named(&text[from..]));
    names
}

/// Every fact in braces.
fn named(text: &str) -> Vec<&str> {
    let mut rest = text;
    let mut names = Vec::new();
    while let Some(at) = rest.find('{') {
        rest = &rest[at + 1..];
        if let Some(after) = rest.strip_prefix('{') {
            rest = after;
        } else if let Some(end) = rest.find('}') {
            names.push(rest[..end].trim());
            rest = &rest[end + 1..];
        }
    }
    names
}

fn fact(findings: &mut Findings, book: &Book, name: &str, span: Span, chosen: bool) -> String {
    if chosen && let Some(lines) = book.lines.get(name) {
        return lines.join("\n");
    }
    if let Some(word) = book.word(name) {
        return word.to_owned();
    }
    let head = name.split('.').next().unwrap_or_default();
    let listed = book.at_hand.iter().find(|list| *list == head);
    let state = match (listed, book.words.contains_key(name)) {
        (Some(list), _) => format!("is not stated of every `{list}`"),
        (None, true) => "is empty".to_owned(),
        (None, false) => "is not stated in `book`".to_owned(),
    };
    let help = match nearest(name, book.words.keys().map(String::as_str)) {
        Some(near) if !is_usual(name) && !book.words.contains_key(name) => format!("did you mean {{{near}}}?"),
        _ if usual_facts().any(|usual| usual == head) || book.words.contains_key(name) => {
            format!("state it there, or leave this element out where it is missing: when={name}")
        }
        _ => format!("state it there: `fact {name} \"…\"`"),
    };
    findings.error(span, format!("the fact {{{name}}} {state}"), help);
    String::new()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::FileId;

    #[test]
    fn facts_and_braces() {
        let mut book = Book::default();
        book.words.insert("title".into(), Spanned::new("Salt".into(), Span::default()));
        let mut findings = Findings::default();
        assert_eq!(fill(&mut findings, &book, "{title}: {{a}}", &|_| Span::default(), false), "Salt: {a}");
        assert!(findings.is_empty());
        let place = |bytes: Range<usize>| Span::new(FileId(2), bytes);
        assert_eq!(fill(&mut findings, &book, "by {titel}", &place, false), "by ");
        let finding = findings.iter().next().expect("an unknown fact is reported");
        assert_eq!(finding.span, Span::new(FileId(2), 3..10));
        assert!(finding.help.as_deref().is_some_and(|help| help.contains("{title}")));
    }

    #[test]
    fn paths_of_facts() {
        let mut book = Book::default();
        book.words.insert("stem".into(), Spanned::new("salt".into(), Span::default()));
        let findings = RefCell::default();
        let filled = |book: &Book, path: &str| {
            fill_path(&findings, book, &Spanned::new(path.to_owned(), Span::default())).map(|path| path.value)
        };
        assert_eq!(filled(&book, "art/{stem}.png").as_deref(), Some("art/salt.png"));
        book.supposed = true;
        assert_eq!(filled(&book, "art/{stem}.png"), None);
        assert_eq!(filled(&book, "art/salt.png").as_deref(), Some("art/salt.png"));
        assert!(findings.borrow().is_empty());
        let filled = |path: &str| fill_path(&findings, &book, &Spanned::new(path.to_owned(), Span::default()));
        assert_eq!(filled("art/{slog}.png"), None);
        assert_eq!(findings.borrow().len(), 1);
    }

    #[test]
    fn facts_that_words_name() {
        assert_eq!(facts_in("{a}{{b}} { c } {d"), ["a", "c"]);
        assert_eq!(facts_in("{a}[, {b}] [sic] [[{c}]]"), ["a", "c"]);
    }

    #[test]
    fn parts_in_brackets_are_left_out_without_their_fact() {
        let mut book = Book::default();
        for (name, stated) in [("quote.by", "E. Rowe"), ("quote.source", "")] {
            book.words.insert(name.into(), Spanned::new(stated.into(), Span::default()));
        }
        let findings = RefCell::new(Findings::default());
        let filled =
            |text: &str| fill(&mut findings.borrow_mut(), &book, text, &|range| Span::new(FileId(2), range), false);
        for (text, wanted) in [
            ("{quote.by}[, {quote.source}]", "E. Rowe"),
            ("[{quote.source}: ]{quote.by}[ ({quote.by})]", "E. Rowe (E. Rowe)"),
            ("[sic] a[1] [", "[sic] a[1] ["),
            ("[[{quote.by}]] [[x]]", "[E. Rowe] [[x]]"),
            ("[{quote.by}, {quote.source}].", "."),
            ("[{subtitle}]", ""),
            ("[{{a}}]", "[{a}]"),
        ] {
            assert_eq!(filled(text), wanted, "{text}");
        }
        assert!(findings.borrow().is_empty());
        // A slip is not a fact that is lacking.
        assert_eq!(filled("by [{quote.by}{qoute.by}]"), "by ");
        let findings = findings.into_inner();
        let finding = findings.iter().next().expect("an unknown fact is reported");
        assert_eq!((finding.span, finding.severity), (Span::new(FileId(2), 4..24), crate::ground::Severity::Warning));
    }
}
