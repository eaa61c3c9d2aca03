//! Values: what a cell says, as values, with the place of every part of it.

use crate::ground::{Findings, Span, Spanned};
use crate::source::{Datum, Node, Value, parse};
use std::ops::Range;

/// Without the blanks around it; `None` when nothing is left.
pub fn trimmed(stated: &Spanned<String>) -> Option<Spanned<String>> {
    let before = stated.value.len() - stated.value.trim_start().len();
    let text = stated.value.trim();
    (!text.is_empty()).then(|| part(stated, before..before + text.len()))
}

/// The words that blanks part.
pub fn words(stated: &Spanned<String>) -> Vec<Spanned<String>> {
    let mut found = Vec::new();
    let mut at = 0;
    for word in stated.value.split_inclusive(char::is_whitespace) {
        let bare = word.trim_end();
        if !bare.is_empty() {
            found.push(part(stated, at..at + bare.len()));
        }
        at += word.len();
    }
    found
}

pub fn text(stated: Spanned<String>) -> Value {
    Value { datum: Datum::Text(stated.value), unit: None, span: stated.span }
}

/// A number, perhaps with its unit: `(in)0.5`. Anything else stays text, for the reader of the word to refuse.
pub fn number_or_text(stated: Spanned<String>) -> Value {
    let (unit, number) = match stated.value.strip_prefix('(').and_then(|rest| rest.split_once(')')) {
        Some((unit, number)) => (Some(unit.to_owned()), number),
        None => (None, stated.value.as_str()),
    };
    let figures = number.strip_prefix('-').unwrap_or(number).starts_with(|first: char| first.is_ascii_digit());
    match number.parse::<f64>() {
        Ok(number) if figures && number.is_finite() => Value { datum: Datum::Number(number), unit, span: stated.span },
        _ => text(stated),
    }
}

/// A long number as spreadsheets show it: `9.78184E+12`, in many countries `9,78184E+12`.
pub fn shortened(text: &str) -> bool {
    let figures = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let parts = text.split_once(['E', 'e']).and_then(|(number, power)| Some((number, power.strip_prefix('+')?)));
    parts.is_some_and(|(number, power)| figures(power) && figures(&number.replacen(['.', ','], "", 1)))
}

/// A break within a cell counts as a space.
pub fn one_line(stated: &Spanned<String>) -> Spanned<String> {
    let Spanned { value, span } = unix(stated);
    Spanned::new(value.replace('\n', " "), span)
}

/// Breaks written in one way, whichever system wrote the table.
pub fn unix(stated: &Spanned<String>) -> Spanned<String> {
    Spanned::new(stated.value.replace("\r\n", "\n").replace('\r', "\n"), stated.span)
}

/// `129x198` and `129 × 198` are two numbers; the sign gives way to as many blanks, so that places stay.
pub fn size(stated: Spanned<String>) -> Spanned<String> {
    let parts: Vec<&str> = stated.value.split(['x', 'X', '×']).collect();
    let [width, height] = parts[..] else { return stated };
    let figure = |letter: char| letter.is_ascii_digit();
    if !width.trim_end().ends_with(figure) || !height.trim_start().starts_with(figure) {
        return stated;
    }
    let blanks = " ".repeat(stated.value.len() - width.len() - height.len());
    Spanned::new(format!("{width}{blanks}{height}"), stated.span)
}

/// What stands after a word in a cover file, read from a cell. Slips are reported at their place in it.
pub fn node(findings: &mut Findings, word: &str, stated: &Spanned<String>) -> Option<Node> {
    // Breaks give way to as many blanks, so that places stay.
    let line = format!("{word} {}", stated.value.replace(['\r', '\n'], " "));
    let moved = |span: Span| {
        let back = |at: usize| at.saturating_sub(word.len() + 1).min(stated.value.len());
        if span.start <= word.len() && span.end <= word.len() {
            stated.span
        } else {
            place(stated, back(span.start)..back(span.end))
        }
    };
    let mut own = Findings::default();
    let mut nodes = parse(&mut own, stated.span.file, &line).nodes;
    for finding in own.iter() {
        let mut finding = finding.clone();
        finding.span = moved(finding.span);
        findings.push(finding);
    }
    if own.has_errors() {
        return None;
    }
    if nodes.len() != 1 || nodes[0].name.value != word {
        let message = format!("this cell does not stop at what follows `{word}`");
        findings.error(stated.span, message, format!("write what stands after `{word}` in a cover file, on one line"));
        return None;
    }
    let mut node = nodes.pop()?;
    shift(&mut node, &moved);
    Some(node)
}

fn shift(node: &mut Node, moved: &dyn Fn(Span) -> Span) {
    node.name.span = moved(node.name.span);
    node.span = moved(node.span);
    for value in &mut node.values {
        value.span = moved(value.span);
    }
    for (name, value) in &mut node.properties {
        name.span = moved(name.span);
        value.span = moved(value.span);
    }
    for child in &mut node.children {
        shift(child, moved);
    }
}

fn part(stated: &Spanned<String>, range: Range<usize>) -> Spanned<String> {
    Spanned::new(stated.value[range.clone()].to_owned(), place(stated, range))
}

/// Where a part of a cell's text stands, within its quotes. A doubled quote or an escape takes more bytes than it says:
/// where there is one, the whole cell is the place. No text that stands plainly between quotes holds a quote.
fn place(stated: &Spanned<String>, range: Range<usize>) -> Span {
    let more = (stated.span.end - stated.span.start).checked_sub(stated.value.len());
    let within = match more {
        Some(0) => stated.span.start,
        Some(2) if !stated.value.contains('"') => stated.span.start + 1,
        _ => return stated.span,
    };
    Span::new(stated.span.file, within + range.start..within + range.end)
}
