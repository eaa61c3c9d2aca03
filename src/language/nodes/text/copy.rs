//! Copy: where a text has its words from.

use crate::ground::{Finding, Findings, Severity, Span};
use crate::language::context::Context;
use crate::language::nodes::text::words::{COPY, COUNT, STAND_IN, WORDS};
use crate::language::words::{fill as fill_words, fill_path};
use crate::source::Reader;
use crate::typeset::{Copy, mark_in, markdown};
use std::ops::Range;

/// The copy of a text; `chosen` asks for the breaks that the book chose.
pub fn copy(reader: &Reader<'_>, context: &Context<'_>, chosen: bool) -> Option<Copy> {
    let words = reader.text_property(&WORDS);
    let file = reader.text_property(&COPY);
    let stand_in = reader.child(&STAND_IN);
    let book = &context.facts.book;
    let findings = reader.findings();
    match (words, file, stand_in) {
        (Some(words), None, None) => {
            if words.value.trim().is_empty() {
                reader.error(words.span, "these words are empty", "say something, or take the text away");
            }
            if let Some(mark) = mark_in(&words.value) {
                let message = format!("words in line are not Markdown: `{mark}` is printed as it stands");
                let help = "put the words in a file, `copy=\"words.md\"`, or take the marks away";
                findings.borrow_mut().push(Finding::new(Severity::Warning, "copy", words.span, message).help(help));
            }
            let text = fill_words(&mut findings.borrow_mut(), book, &words.value, &|_| words.span, chosen);
            Some(Copy::plain(&text))
        }
        (None, Some(path), None) => {
            let path = fill_path(findings, book, &path)?;
            let (file, text) = context.desk.text(&path)?;
            let mut filling = |findings: &mut Findings, words: &str, place: &dyn Fn(Range<usize>) -> Span| {
                fill_words(findings, book, words, place, false)
            };
            Some(markdown(&mut findings.borrow_mut(), file, &text, &mut filling))
        }
        (None, None, Some(word)) => {
            let count = word.number_property(&COUNT).map_or(80.0, |count| count.value);
            let finding = Finding::new(Severity::Error, "stand-in-left", word.span(), "placeholder copy stands here")
                .help("put the true copy in its place before this goes to press");
            findings.borrow_mut().push(finding);
            Some(Copy::plain(&placeholder(count as usize)))
        }
        // One that stands there and could not be read has been reported.
        (None, None, None) if reader.property(&WORDS).or(reader.property(&COPY)).is_some() => None,
        (None, None, None) if reader.peek().is_some_and(|value| value.text().is_some()) => {
            let value = reader.value()?;
            let help = format!("write words={}", value.shown());
            reader.error(value.span, "the words of a text stand behind `words=`", help);
            None
        }
        (None, None, None) => {
            let help = "write `words=\"…\"`, or `copy=\"blurb.md\"`, or `stand-in words=80`";
            reader.lacks(reader.span(), "this text has no words", help);
            None
        }
        _ => {
            let message = "a text takes its words from one place";
            reader.error(reader.span(), message, "keep one of `words=`, `copy=` and `stand-in`");
            None
        }
    }
}

/// Words that look like prose and can be taken for nothing else.
fn placeholder(count: usize) -> String {
    const FILLER: [&str; 18] = [
        "here", "the", "words", "of", "the", "copy", "will", "stand", "as", "soon", "as", "somebody", "has", "written",
        "them", "and", "not", "before",
    ];
    let words: Vec<&str> = FILLER.iter().cycle().take(count).copied().collect();
    let mut text = words.join(" ");
    text.replace_range(..1, "H");
    text + "."
}

const WORD_JOINER: char = '\u{2060}';

/// Marks words that may not part: a word joiner before the first letter tells the hyphenator so, and stays out of the
/// way of kerning and ligatures. A word with points in it, `Uhr-macher`, may part there: soft hyphens say so.
pub fn keep_whole(text: &mut String, whole: &[String]) {
    for word in whole.iter().filter(|word| word.contains(char::is_alphabetic)) {
        mark(text, word, &format!("{WORD_JOINER}{word}"));
        if word.contains('-') {
            mark(text, &word.replace('-', ""), &word.replace('-', "\u{AD}"));
        }
    }
}

/// Puts another form in the place of a word, wherever it stands by itself.
fn mark(text: &mut String, word: &str, marked: &str) {
    let letter = |letter: Option<char>| letter.is_some_and(char::is_alphabetic);
    let found: Vec<usize> = text.match_indices(word).map(|(at, _)| at).collect();
    // From the end, so that places before it stay true.
    for at in found.into_iter().rev() {
        let (before, after) = (text[..at].chars().next_back(), text[at + word.len()..].chars().next());
        if !letter(before) && !letter(after) {
            text.replace_range(at..at + word.len(), marked);
        }
    }
}

/// For a spine that reads upright.
pub fn one_letter_a_line(copy: &Copy) -> Copy {
    let text = copy.text();
    let letters: Vec<String> = text
        .chars()
        .filter(|letter| !letter.is_control() && *letter != WORD_JOINER)
        .map(|letter| if letter == ' ' { String::from('\u{a0}') } else { letter.to_string() })
        .collect();
    Copy::plain(&letters.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kept_words_part_at_their_points_alone() {
        let mut text = "Der Uhrmacher und die Uhrmacherin, see-going lanterns.".to_owned();
        keep_whole(&mut text, &["Uhr-macher".to_owned(), "see-going".to_owned(), "-".to_owned()]);
        assert_eq!(text, "Der Uhr\u{AD}macher und die Uhrmacherin, \u{2060}see-going lanterns.");
    }
}
