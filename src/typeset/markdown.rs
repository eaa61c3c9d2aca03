//! Copy in Markdown: paragraphs, `*emphasis*`, `**strong**`, hard breaks, `<sc>small caps</sc>`. What Markdown has beyond
//! that is reported at its place and set as plain words. Quotes and dashes stay as the author wrote them.

use crate::ground::{FileId, Finding, Findings, Severity, Span, hidden, hidden_words};
use crate::typeset::copy::{Copy, Paragraph, Phrase};
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};
use std::ops::Range;

/// Fills in what words ask for, once they are no longer Markdown: gets words of one look, and can ask where any of their
/// bytes stand in the file.
pub type FillIn<'a> = dyn FnMut(&mut Findings, &str, &dyn Fn(Range<usize>) -> Span) -> String + 'a;

/// A copy file as copy.
pub fn markdown(findings: &mut Findings, file: FileId, text: &str, filling: &mut FillIn<'_>) -> Copy {
    let mut reader = CopyReader {
        findings,
        file,
        text,
        filling,
        copy: Copy::default(),
        open: Vec::new(),
        emphasis: Emphasis::default(),
        marker: None,
        html: None,
        warned: 0,
    };
    let mut events = Parser::new_ext(text, Options::ENABLE_TABLES).into_offset_iter();
    for (event, place) in events.by_ref() {
        reader.take(event, place);
    }
    reader.close();
    for (_, definition) in events.reference_definitions().iter() {
        reader.warn(definition.span.clone(), "the address of a link, which is not printed");
    }
    reader.copy
}

/// What Markdown would read as a mark, in words that are set as they stand: `*so*`, `<sc>`, `&nbsp;`.
pub fn mark_in(words: &str) -> Option<&str> {
    if !words.contains(['*', '_', '<', '&']) {
        return None;
    }
    let mut events = Parser::new(words).into_offset_iter();
    let place = events.find_map(|(event, place)| match event {
        Event::Start(Tag::Emphasis | Tag::Strong) => Some(place),
        Event::InlineHtml(tag) => ["<sc>", "<br>", "<br/>", "<br />"].contains(&&*tag).then_some(place),
        Event::Text(text) => (words[place.clone()].starts_with('&') && *text != words[place.clone()]).then_some(place),
        _ => None,
    });
    place.map(|place| &words[place])
}

#[derive(Clone, Copy, Default)]
struct Emphasis {
    slanted: usize,
    strong: usize,
    small_caps: bool,
}

struct CopyReader<'a, 'f> {
    findings: &'a mut Findings,
    file: FileId,
    text: &'a str,
    filling: &'a mut FillIn<'f>,
    copy: Copy,
    open: Vec<OpenPhrase>,
    emphasis: Emphasis,
    /// The number or sign of a list's item, before its words come.
    marker: Option<Range<usize>>,
    /// A block of HTML under way.
    html: Option<Range<usize>>,
    warned: usize,
}

/// A phrase under way, and from which bytes of the file its parts come.
struct OpenPhrase {
    phrase: Phrase,
    origins: Vec<PhrasePart>,
}

/// Where a part of a phrase comes from.
struct PhrasePart {
    at: usize,
    place: Range<usize>,
    /// It is read as it is written; an entity is not.
    verbatim: bool,
}

/// Nobody reads more, and a very long file must not take long.
const MOST_WARNINGS: usize = 100;

impl CopyReader<'_, '_> {
    fn take(&mut self, event: Event<'_>, place: Range<usize>) {
        match event {
            Event::Text(text) => self.add(&text, place),
            Event::SoftBreak | Event::End(TagEnd::TableCell) => self.add(" ", place),
            Event::HardBreak => self.add("\n", place),
            Event::Code(text) => {
                self.warn(place.clone(), "a piece of code");
                self.add(&text, place);
            }
            Event::InlineHtml(tag) => self.tag(&tag, place),
            Event::Html(_) => match &mut self.html {
                Some(html) => html.end = place.end,
                None => self.html = Some(place),
            },
            Event::Rule => {
                self.close();
                self.warn(place, "a rule across the page");
            }
            Event::Start(tag) => self.start(&tag, place),
            Event::End(TagEnd::Emphasis) => self.emphasis.slanted = self.emphasis.slanted.saturating_sub(1),
            Event::End(TagEnd::Strong) => self.emphasis.strong = self.emphasis.strong.saturating_sub(1),
            Event::End(TagEnd::Link | TagEnd::Image) => {}
            Event::End(TagEnd::HtmlBlock) => self.block_of_html(),
            Event::End(TagEnd::Item) => {
                self.mark();
                self.close();
            }
            Event::End(_) => self.close(),
            _ => self.warn(place, "something beyond plain copy"),
        }
    }

    fn start(&mut self, tag: &Tag<'_>, place: Range<usize>) {
        let strange = match tag {
            Tag::Emphasis => {
                self.emphasis.slanted += 1;
                return;
            }
            Tag::Strong => {
                self.emphasis.strong += 1;
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
        if let Tag::Item = tag {
            let item = &self.text[place.clone()];
            let start = place.start + item.len() - item.trim_start().len();
            let end = self.text[start..].find(char::is_whitespace).map_or(self.text.len(), |length| start + length);
            self.marker = Some(start..end);
        }
        if let Some(strange) = strange {
            self.warn(place, strange);
        }
    }

    fn tag(&mut self, tag: &str, place: Range<usize>) {
        match tag.to_ascii_lowercase().as_str() {
            "<sc>" => self.emphasis.small_caps = true,
            "</sc>" => self.emphasis.small_caps = false,
            "<br>" | "<br/>" | "<br />" => self.add("\n", place),
            _ if tag.starts_with("<!--") => {}
            _ => self.warn(place, "an HTML tag"),
        }
    }

    /// Comments are the author's own; what else there is comes out as plain words.
    fn block_of_html(&mut self) {
        let Some(place) = self.html.take() else { return };
        let mut at = place.start;
        let text = &self.text[..place.end];
        let mut plain: Vec<Range<usize>> = Vec::new();
        while let Some(start) = text[at..].find("<!--").map(|found| at + found) {
            plain.push(at..start);
            at = text[start..].find("-->").map_or(text.len(), |found| start + found + 3);
            if !text[..at].ends_with("-->") {
                self.warn(start..at, "a comment without an end: the words after it are not printed");
            }
        }
        plain.push(at..text.len());
        plain.retain(|part| !text[part.clone()].trim().is_empty());
        if !plain.is_empty() {
            self.warn(place, "a block of HTML");
        }
        for part in plain {
            self.add(&untagged(&text[part.clone()]), part);
        }
        self.close();
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

    /// The marker of a list's item is words, too: a year, perhaps.
    fn mark(&mut self) {
        if let Some(marker) = self.marker.take() {
            let words = format!("{} ", &self.text[marker.clone()]);
            self.add(&words, marker);
        }
    }

    fn add(&mut self, text: &str, place: Range<usize>) {
        self.mark();
        let Emphasis { slanted, strong, small_caps } = self.emphasis;
        // Emphasis within emphasis stands out by being upright again.
        let (emphasis, strong) = (slanted % 2 == 1, strong > 0);
        let same =
            |phrase: &Phrase| (phrase.emphasis, phrase.strong, phrase.small_caps) == (emphasis, strong, small_caps);
        if !self.open.last().is_some_and(|last| same(&last.phrase)) {
            let phrase = Phrase { text: String::new(), emphasis, strong, small_caps };
            self.open.push(OpenPhrase { phrase, origins: Vec::new() });
        }
        if let Some(last) = self.open.last_mut() {
            let verbatim = self.text.get(place.clone()) == Some(text);
            last.origins.push(PhrasePart { at: last.phrase.text.len(), place, verbatim });
            last.phrase.text.push_str(text);
        }
    }

    /// Ends a paragraph.
    fn close(&mut self) {
        let mut phrases = Vec::new();
        for OpenPhrase { mut phrase, origins } in std::mem::take(&mut self.open) {
            let file = self.file;
            let span = |bytes: Range<usize>| Span::new(file, origin(&origins, &bytes));
            for (at, letter) in hidden(&phrase.text) {
                let place = span(at..at + letter.len_utf8());
                let (message, help) = hidden_words(letter);
                self.findings.error(place, message, help);
            }
            phrase.text = (self.filling)(self.findings, &phrase.text, &span);
            phrases.push(phrase);
        }
        if let Some(last) = phrases.last_mut() {
            last.text.truncate(last.text.trim_end_matches([' ', '\n']).len());
        }
        if phrases.iter().any(|phrase| !phrase.text.trim().is_empty()) {
            self.copy.paragraphs.push(Paragraph { phrases });
        }
        self.emphasis.small_caps = false;
    }
}

/// Where bytes of a phrase stand in the file.
fn origin(origins: &[PhrasePart], bytes: &Range<usize>) -> Range<usize> {
    let at = |byte: usize, after: usize| {
        let part = origins[..origins.partition_point(|part| part.at <= byte)].last();
        part.map_or(0, |part| {
            let whole = if after == 0 { part.place.start } else { part.place.end };
            if part.verbatim { (part.place.start + byte + after - part.at).min(part.place.end) } else { whole }
        })
    };
    let (start, end) = (at(bytes.start, 0), at(bytes.end.saturating_sub(1), 1));
    start..end.max(start)
}

/// A block's words without its tags.
fn untagged(text: &str) -> String {
    let mut plain = String::new();
    let mut rest = text;
    while let Some(at) = rest.find('<') {
        plain.push_str(&rest[..at]);
        let begins =
            rest[at + 1..].starts_with(|letter: char| letter.is_alphabetic() || matches!(letter, '/' | '!' | '?'));
        let end = if begins { rest[at..].find('>').map_or(at, |end| at + end + 1) } else { at };
        if end == at {
            plain.push('<');
            rest = &rest[at + 1..];
        } else {
            rest = &rest[end..];
        }
    }
    plain.push_str(rest);
    plain.split_whitespace().collect::<Vec<&str>>().join(" ")
}
