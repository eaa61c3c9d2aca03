//! KDL text to Tree. The one door to the KDL parser.

use crate::assets::KDL_LIMIT;
use crate::ground::{FileId, Findings, Span, Spanned, hidden, hidden_words};
use crate::source::habits::TEXTS;
use crate::source::slips::slips;
use crate::source::tokens::{Token, TokenKind, is_newline, pieces, speaking};
use crate::source::tree::{Datum, Node, Tree, Value};
use kdl::{KdlDocument, KdlEntry, KdlError, KdlIdentifier, KdlNode, KdlValue};

pub const TEXT_LIMIT: usize = KDL_LIMIT as usize;

/// Nodes take longer to read than letters; each ends with its line, or with `;`.
pub const NODE_LIMIT: usize = 40_000;

/// A file that is not KDL gives an empty tree and its slips, or the first and narrowest fault of the parser.
pub fn parse(findings: &mut Findings, file: FileId, text: &str) -> Tree {
    if text.len() > TEXT_LIMIT {
        let message =
            format!("the file is {} KB large; the limit is {} KB", text.len().div_ceil(1024), TEXT_LIMIT >> 10);
        findings.error(Span::new(file, 0..0), message, "a cover file holds words and measures; pictures go beside it");
        return Tree::default();
    }
    let pieces = pieces(text);
    let mut ends = pieces.iter().filter(|piece| piece.kind == TokenKind::End);
    if let Some(end) = ends.nth(NODE_LIMIT) {
        let message = format!("the file has more than {NODE_LIMIT} nodes and lines up to here");
        let help = "a cover has some hundreds: put what repeats into a `part`, and fine art into a drawing";
        findings.error(Span::new(file, end.range.clone()), message, help);
        return Tree::default();
    }
    let slips = slips(text, &speaking(&pieces));
    if !slips.is_empty() {
        for slip in slips {
            findings.error(Span::new(file, slip.range), slip.message, slip.help);
        }
        return Tree::default();
    }
    match KdlDocument::parse_v2(&uncommented(text, &pieces)) {
        Ok(document) => Converter { findings, file, text }.tree(&document),
        Err(fault) => {
            report(findings, file, text, &fault);
            Tree::default()
        }
    }
}

/// The text with its comments blanked, byte for byte: the parser reads comments by calling itself, and nested or long ones
/// would take it beyond its stack.
fn uncommented(text: &str, tokens: &[Token]) -> String {
    let mut blanked = String::with_capacity(text.len());
    for token in tokens {
        let stated = &text[token.range.clone()];
        match token.kind {
            TokenKind::LineComment | TokenKind::BlockComment => blanked.extend(std::iter::repeat_n(' ', stated.len())),
            // The backslash and the end of its line; comments stand between.
            TokenKind::Join => {
                let inner = stated[1..].trim_end_matches(is_newline);
                blanked.push('\\');
                blanked.extend(std::iter::repeat_n(' ', inner.len()));
                blanked.push_str(&stated[1 + inner.len()..]);
            }
            _ => blanked.push_str(stated),
        }
    }
    blanked
}

/// The parser's own words, when none of ours fit: the narrowest of its complaints, and of those the first.
fn report(findings: &mut Findings, file: FileId, text: &str, fault: &KdlError) {
    let narrowest = fault.diagnostics.iter().min_by_key(|stated| (stated.span.len(), stated.span.offset()));
    let (at, length) = narrowest.map_or((0, 0), |stated| (stated.span.offset(), stated.span.len()));
    let start = text.floor_char_boundary(at);
    let reach = text.ceil_char_boundary((at + length).min(text.len()));
    // A place that runs on for lines says no more than its first one.
    let line = text[start..reach].find('\n').map_or(reach, |end| start + end);
    let message = narrowest.and_then(|stated| stated.message.as_deref()).map_or_else(String::new, lower_first);
    let help = narrowest.and_then(|stated| stated.help.as_deref()).map_or_else(String::new, lower_first);
    let message = format!("this is not KDL: {}", message.trim_end_matches('.'));
    let help = if help.is_empty() { "see https://kdl.dev for how KDL is written".to_owned() } else { help };
    findings.error(Span::new(file, start..line), message, help);
}

fn lower_first(stated: &str) -> String {
    let mut letters = stated.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

struct Converter<'a> {
    findings: &'a mut Findings,
    file: FileId,
    text: &'a str,
}

impl Converter<'_> {
    fn tree(&mut self, document: &KdlDocument) -> Tree {
        Tree { nodes: document.nodes().iter().map(|node| self.node(node)).collect() }
    }

    fn node(&mut self, node: &KdlNode) -> Node {
        let name = self.name(node.name());
        if let Some(unit) = node.ty() {
            let message = format!("`({})` before a node says nothing", unit.value());
            self.findings.error(name.span, message, "units stand before numbers: `(pt)12`");
        }
        let (mut values, mut properties) = (Vec::new(), Vec::new());
        for entry in node.entries() {
            let mut value = self.value(entry);
            let key = entry.name().map(|key| self.name(key));
            let whose = key.as_ref().map_or(name.value.as_str(), |key| key.value.as_str());
            self.without_comma(&mut value, whose);
            match key {
                Some(key) => properties.push((key, value)),
                None => values.push(value),
            }
        }
        let children = node.children().map_or_else(Vec::new, |children| self.tree(children).nodes);
        let whole = node.span().offset()..node.span().offset() + node.span().len();
        let end =
            name.span.start + self.text.get(name.span.start..whole.end).map_or(0, |stated| stated.trim_end().len());
        let span = Span::new(self.file, name.span.start..end.max(name.span.end));
        Node { name, values, properties, children, span }
    }

    /// A comma behind a bare word was to part it from the next; in words that are text it is a part of them.
    fn without_comma(&mut self, value: &mut Value, whose: &str) {
        if TEXTS.contains(&whose) || !value.is_bare() {
            return;
        }
        let Datum::Text(text) = &mut value.datum else { return };
        if let Some(bare) = text.strip_suffix(',').filter(|bare| !bare.is_empty()).map(str::to_owned) {
            let comma = Span { start: value.span.end - ",".len(), ..value.span };
            self.findings.error(
                comma,
                format!("a comma stands after `{bare}`"),
                "no commas: values stand apart by spaces",
            );
            *text = bare;
            value.span.end = comma.start;
        }
    }

    fn name(&self, name: &KdlIdentifier) -> Spanned<String> {
        let start = name.span().offset();
        Spanned::new(name.value().to_owned(), Span::new(self.file, start..start + name.span().len()))
    }

    fn value(&mut self, entry: &KdlEntry) -> Value {
        let span = self.value_span(entry);
        let datum = match entry.value() {
            KdlValue::String(text) => Datum::Text(text.clone()),
            KdlValue::Integer(number) => Datum::Number(*number as f64),
            KdlValue::Float(number) => Datum::Number(*number),
            KdlValue::Bool(flag) => Datum::Flag(*flag),
            KdlValue::Null => Datum::Null,
        };
        if let Datum::Text(text) = &datum
            && let Some((_, letter)) = hidden(text).next()
        {
            // Escapes get past what the file itself may not hold.
            let (message, help) = hidden_words(letter);
            self.findings.error(span, message, help);
        }
        let unit = entry.ty().map(|unit| unit.value().to_owned());
        if let (Some(unit), false) = (&unit, matches!(datum, Datum::Number(_))) {
            let message = format!("`({unit})` stands before something that is not a number");
            self.findings.error(span, message, "units stand before numbers: `(pt)12`");
        }
        Value { datum, unit, span }
    }

    /// The value alone, with its unit, without the name of its property.
    fn value_span(&self, entry: &KdlEntry) -> Span {
        let end = entry.span().offset() + entry.span().len();
        let start = match (entry.name(), entry.format()) {
            (Some(name), Some(format)) => {
                let key_end = name.span().offset() + name.span().len();
                key_end + format.after_key.len() + "=".len() + format.after_eq.len()
            }
            _ => entry.span().offset(),
        };
        Span::new(self.file, start.min(end)..end)
    }
}
