//! Copy: the words of a text, from one line of a cover file or from Markdown.
//!
//! A word with a U+2060 (word joiner, `&NoBreak;` in Markdown) in it is never hyphenated; a soft hyphen (U+00AD,
//! `&shy;`) says where a word may part, and then it parts nowhere else; a no-break space (U+00A0, `&nbsp;`) keeps two
//! words on one line.

use crate::ground::{FileId, Finding, Findings, Severity, Span};
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};
use std::ops::Range;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Copy {
    pub paragraphs: Vec<Paragraph>,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Paragraph {
    pub words: Vec<Words>,
}

/// Words of one look. A line break the author chose is `\n`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Words {
    pub text: String,
    pub emphasis: bool,
    pub strong: bool,
    pub small_caps: bool,
}

impl Copy {
    /// One paragraph a line break pair; single `\n` are chosen line breaks.
    pub fn plain(text: &str) -> Copy {
        let mut copy = Copy::default();
        let mut lines: Vec<&str> = Vec::new();
        let mut close = |lines: &mut Vec<&str>| {
            if !lines.is_empty() {
                let words = Words { text: lines.join("\n"), ..Words::default() };
                copy.paragraphs.push(Paragraph { words: vec![words] });
                lines.clear();
            }
        };
        for line in text.lines() {
            match line.trim_matches([' ', '\t', '\r']) {
                "" => close(&mut lines),
                line => lines.push(line),
            }
        }
        close(&mut lines);
        copy
    }

    /// Paragraphs, `*emphasis*`, `**strong**`, hard breaks, `<sc>small caps</sc>`. What Markdown has beyond that is
    /// reported at its place in `file` and set as plain words. Quotes and dashes stay as the author wrote them.
    pub fn markdown(findings: &mut Findings, file: FileId, text: &str) -> Copy {
        let mut reading =
            Reading { findings, file, copy: Copy::default(), open: Vec::new(), look: Look::default(), warned: 0 };
        for (event, place) in Parser::new_ext(text, Options::ENABLE_TABLES).into_offset_iter() {
            reading.take(event, place);
        }
        reading.close();
        reading.copy
    }

    /// All words, paragraphs parted by a blank line.
    pub fn text(&self) -> String {
        let paragraphs: Vec<String> =
            self.paragraphs.iter().map(|p| p.words.iter().map(|words| words.text.as_str()).collect()).collect();
        paragraphs.join("\n\n")
    }
}

#[derive(Clone, Copy, Default)]
struct Look {
    emphasis: usize,
    strong: usize,
    small_caps: bool,
}

struct Reading<'a> {
    findings: &'a mut Findings,
    file: FileId,
    copy: Copy,
    open: Vec<Words>,
    look: Look,
    warned: usize,
}

/// Nobody reads more, and a very long file must not take long.
const MOST_WARNINGS: usize = 100;

impl Reading<'_> {
    fn take(&mut self, event: Event<'_>, place: Range<usize>) {
        match event {
            Event::Text(text) => self.add(&text),
            Event::SoftBreak | Event::End(TagEnd::TableCell) => self.add(" "),
            Event::HardBreak => self.add("\n"),
            Event::Code(text) => {
                self.warn(place, "a piece of code");
                self.add(&text);
            }
            Event::InlineHtml(tag) => self.tag(&tag, place),
            Event::Html(text) => {
                self.warn(place, "a block of HTML");
                self.add(&untagged(&text));
            }
            Event::Rule => {
                self.close();
                self.warn(place, "a rule across the page");
            }
            Event::Start(tag) => self.start(&tag, place),
            Event::End(TagEnd::Emphasis) => self.look.emphasis = self.look.emphasis.saturating_sub(1),
            Event::End(TagEnd::Strong) => self.look.strong = self.look.strong.saturating_sub(1),
            Event::End(TagEnd::Link | TagEnd::Image) => {}
            Event::End(_) => self.close(),
            _ => self.warn(place, "something beyond plain copy"),
        }
    }

    fn start(&mut self, tag: &Tag<'_>, place: Range<usize>) {
        let strange = match tag {
            Tag::Emphasis => {
                self.look.emphasis += 1;
                return;
            }
            Tag::Strong => {
                self.look.strong += 1;
                return;
            }
            Tag::Link { .. } => return self.warn(place, "a link"),
            Tag::Image { .. } => return self.warn(place, "an image"),
            Tag::Paragraph | Tag::Item | Tag::TableHead | Tag::TableRow | Tag::TableCell | Tag::HtmlBlock => None,
            Tag::Heading { .. } => Some("a heading"),
            Tag::List(_) => Some("a list"),
            Tag::BlockQuote(_) => Some("a block quotation"),
            Tag::CodeBlock(_) => Some("a block of code"),
            Tag::Table(_) => Some("a table"),
            _ => Some("something beyond plain copy"),
        };
        if !matches!(tag, Tag::TableCell) {
            self.close();
        }
        if let Some(strange) = strange {
            self.warn(place, strange);
        }
    }

    fn tag(&mut self, tag: &str, place: Range<usize>) {
        match tag.to_ascii_lowercase().as_str() {
            "<sc>" => self.look.small_caps = true,
            "</sc>" => self.look.small_caps = false,
            "<br>" | "<br/>" | "<br />" => self.add("\n"),
            _ if tag.starts_with("<!--") => {}
            _ => self.warn(place, "an HTML tag"),
        }
    }

    fn warn(&mut self, place: Range<usize>, what: &str) {
        self.warned += 1;
        if self.warned > MOST_WARNINGS {
            return;
        }
        let message =
            format!("{what}: copy has paragraphs, *emphasis*, **strong**, line breaks and <sc>small caps</sc>");
        let span = Span::new(self.file, place);
        let help = "its words are set as plain text; give it an element of its own if it matters";
        self.findings.push(Finding::new(Severity::Warning, "copy", span, message).help(help));
    }

    fn add(&mut self, text: &str) {
        let look = self.look;
        // Emphasis within emphasis stands out by being upright again.
        let (emphasis, strong) = (look.emphasis % 2 == 1, look.strong > 0);
        match self.open.last_mut() {
            Some(last) if (last.emphasis, last.strong, last.small_caps) == (emphasis, strong, look.small_caps) => {
                last.text.push_str(text);
            }
            _ => self.open.push(Words { text: text.to_owned(), emphasis, strong, small_caps: look.small_caps }),
        }
    }

    fn close(&mut self) {
        if let Some(last) = self.open.last_mut() {
            last.text.truncate(last.text.trim_end_matches([' ', '\n']).len());
        }
        let words = std::mem::take(&mut self.open);
        if words.iter().any(|words| !words.text.trim().is_empty()) {
            self.copy.paragraphs.push(Paragraph { words });
        }
        self.look.small_caps = false;
    }
}

fn untagged(text: &str) -> String {
    let mut plain = String::new();
    let mut inside = false;
    for letter in text.chars() {
        match letter {
            '<' => inside = true,
            '>' => inside = false,
            letter if !inside => plain.push(if letter == '\n' { ' ' } else { letter }),
            _ => {}
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Copy, Vec<String>) {
        let mut findings = Findings::default();
        let copy = Copy::markdown(&mut findings, FileId(3), text);
        let said = findings.iter().map(|finding| {
            assert_eq!(finding.span.file, FileId(3));
            text[finding.span.start..finding.span.end].to_owned()
        });
        (copy, said.collect())
    }

    #[test]
    fn looks_and_breaks() {
        let (copy, said) = read("A *very **bold*** move\\\nby <sc>bbc</sc> &amp; co.\n\nTwo\nlines &NoBreak;here");
        assert!(said.is_empty(), "{said:?}");
        assert_eq!(copy.text(), "A very bold move\nby bbc & co.\n\nTwo lines \u{2060}here");
        let looks: Vec<_> = copy.paragraphs[0]
            .words
            .iter()
            .map(|words| (words.text.trim(), words.emphasis, words.strong, words.small_caps))
            .collect();
        assert_eq!(
            looks,
            [
                ("A", false, false, false),
                ("very", true, false, false),
                ("bold", true, true, false),
                ("move\nby", false, false, false),
                ("bbc", false, false, true),
                ("& co.", false, false, false),
            ]
        );
    }

    #[test]
    fn what_is_no_copy_is_reported_and_kept() {
        let (copy, said) =
            read("# Head\n\n- one\n- two\n\nSee [this](x.html) `code`.\n\n| a | b |\n|---|---|\n| c | d |\n");
        assert_eq!(copy.text(), "Head\n\none\n\ntwo\n\nSee this code.\n\na b\n\nc d");
        assert_eq!(said.len(), 5, "{said:?}");
        assert_eq!(said[2], "[this](x.html)");
    }

    #[test]
    fn plain_text_has_paragraphs_and_chosen_breaks() {
        let copy = Copy::plain("Salt and\nLanterns\r\n\r\n  \n\nA novel ");
        assert_eq!(copy.text(), "Salt and\nLanterns\n\nA novel");
        assert_eq!(Copy::plain(" \n\n").paragraphs.len(), 0);
    }
}
