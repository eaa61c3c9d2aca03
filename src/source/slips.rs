//! Slips: what beginners of KDL write, found at its narrowest place and told in our words.

use crate::source::tokens::{Kind, Token, Unclosed, is_newline};
use crate::source::words::word_slip;
use std::ops::Range;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    pub range: Range<usize>,
    pub message: String,
    pub help: String,
}

impl Slip {
    pub fn new(range: Range<usize>, message: impl Into<String>, help: impl Into<String>) -> Slip {
        Slip { range, message: message.into(), help: help.into() }
    }
}

/// Blocks may lie this deep in each other; a cover needs about six.
const DEPTH_LIMIT: usize = 48;
/// Blocks taken away with `/-` inside each other: each level costs the parser twice the time of the one before.
const SLASHED_LIMIT: usize = 6;

/// The first slip of a text, if it has one.
pub fn first_slip(text: &str, tokens: &[Token]) -> Option<Slip> {
    let unbalanced = braces(text, tokens);
    let other = tokens.iter().enumerate().find_map(|(place, token)| slip_at(text, tokens, place, token));
    let forbidden = forbidden_letter(text);
    // An unclosed brace is told by its opening, far above its consequences: whatever else is wrong comes first.
    let mut found: Vec<Slip> = other.into_iter().chain(forbidden).collect();
    found.sort_by_key(|slip| slip.range.start);
    found.into_iter().next().or(unbalanced)
}

fn slip_at(text: &str, tokens: &[Token], place: usize, token: &Token) -> Option<Slip> {
    let range = token.range.clone();
    let said = &text[range.clone()];
    let previous = place.checked_sub(1).map(|before| &tokens[before]);
    let starts = previous.is_none_or(|token| matches!(token.kind, Kind::End | Kind::Open));
    let touches = previous.is_some_and(|token| token.range.end == range.start);
    match token.kind {
        Kind::Unclosed(what) => Some(unclosed(what, range)),
        Kind::Open if starts => Some(Slip::new(
            range,
            "`{` stands where a name should",
            "put `{` at the end of the line with the name: `panel front {`",
        )),
        Kind::Equals if starts => Some(Slip::new(range, "`=` stands where a name should", "write `name value`")),
        Kind::Equals => equals(tokens, place, range),
        Kind::Word | Kind::Text => {
            let before = previous.map(|token| token.kind);
            match before {
                Some(Kind::Close) => Some(Slip::new(
                    range.clone(),
                    format!("`{}` follows `}}` on the same line", shorten(said)),
                    "begin a new line, or put `;` between",
                )),
                Some(Kind::Text) if touches => Some(Slip::new(
                    range.clone(),
                    format!("`{}` follows the closing quote without a space", shorten(said)),
                    "a quote mark inside text is written \\\"; two values stand apart by a space",
                )),
                Some(Kind::Word) if touches && token.kind == Kind::Text => Some(inch_or_quote(text, tokens, place)),
                _ if token.kind == Kind::Text => text_slip(said, range.start),
                _ => word_slip(text, tokens, place),
            }
        }
        Kind::Unit if touches && previous.is_some_and(|token| token.kind == Kind::Word) => {
            let number = previous.map_or("", |token| &text[token.range.clone()]);
            Some(Slip::new(range, "the unit stands after its number", format!("a unit comes first: `{said}{number}`")))
        }
        _ => None,
    }
}

fn unclosed(what: Unclosed, range: Range<usize>) -> Slip {
    let start = range.start;
    match what {
        Unclosed::Text => Slip::new(
            start..start + 1,
            "this quote is not closed on its line",
            "close it with \"; text over several lines stands between two lines of \"\"\"",
        ),
        Unclosed::LongText => Slip::new(
            start..start + 1,
            "this text is not closed before the end of the file",
            "end it as it began, with the quotes on a line of their own",
        ),
        Unclosed::Comment => Slip::new(start..start + 2, "this comment is not closed", "close it with */"),
        Unclosed::Unit => Slip::new(range, "this bracket is not closed", "a unit is written `(pt)12`"),
    }
}

/// `title = "x"`: a property needs a node to belong to.
fn equals(tokens: &[Token], place: usize, range: Range<usize>) -> Option<Slip> {
    let begins = |place: usize| place == 0 || matches!(tokens[place - 1].kind, Kind::End | Kind::Open);
    // `/-` takes away a whole node, or a property within one.
    let slashed = place >= 2 && tokens[place - 2].kind == Kind::Slashdash;
    let key_starts = if slashed { begins(place - 2) } else { begins(place - 1) };
    let key = tokens[place - 1].kind;
    if key_starts && matches!(key, Kind::Word | Kind::Text) {
        return Some(Slip::new(
            range,
            "`=` follows the first name of a line",
            "the value of a node follows after a space: `title \"…\"`; only properties after it take `=`",
        ));
    }
    let value = tokens.get(place + 1).map(|token| token.kind);
    let known = matches!(value, Some(Kind::Word | Kind::Text | Kind::Unit | Kind::Unclosed(_)));
    (!known).then(|| Slip::new(range, "nothing follows `=`", "write the value after it: `state=confirmed`"))
}

fn inch_or_quote(text: &str, tokens: &[Token], place: usize) -> Slip {
    let before = &text[tokens[place - 1].range.clone()];
    let range = tokens[place].range.clone();
    let help = if before.ends_with(|letter: char| letter.is_ascii_digit()) {
        format!("inches are written `(in){before}`; two values stand apart by a space")
    } else {
        format!("properties are written `{before}=\"…\"`; two values stand apart by a space")
    };
    Slip::new(range.start..range.start + 1, format!("a quote opens right after `{before}`"), help)
}

/// What may follow a backslash in quotes.
fn text_slip(said: &str, start: usize) -> Option<Slip> {
    if said.starts_with('#') {
        return None;
    }
    if said.starts_with("\"\"\"") && !said[3..].starts_with(is_newline) {
        let message = "text between \"\"\" begins on a line of its own";
        return Some(Slip::new(start..start + 3, message, "begin a new line after \"\"\", or use single quotes"));
    }
    let mut letters = said.char_indices();
    while let Some((at, letter)) = letters.next() {
        if letter != '\\' {
            continue;
        }
        let (_, escaped) = letters.next()?;
        if !(matches!(escaped, '"' | '\\' | 'b' | 'f' | 'n' | 'r' | 't' | 's' | 'u') || escaped.is_whitespace()) {
            let range = start + at..start + at + 1 + escaped.len_utf8();
            let help = "paths part with /; a backslash itself is written \\\\";
            return Some(Slip::new(range, format!("`\\{escaped}` means nothing in quotes"), help));
        }
    }
    None
}

/// Letters that no KDL text may hold: controls, and marks that turn the direction of writing unseen.
fn forbidden_letter(text: &str) -> Option<Slip> {
    let forbidden = |letter: char| {
        matches!(letter, '\0'..='\u{8}' | '\u{e}'..='\u{1f}' | '\u{7f}' | '\u{200e}'..='\u{200f}'
            | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
    };
    let (at, letter) =
        text.char_indices().find(|(at, letter)| forbidden(*letter) && !(*at == 0 && *letter == '\u{feff}'))?;
    let message = format!("an unseen character stands here, U+{:04X}", letter as u32);
    Some(Slip::new(at..at + letter.len_utf8(), message, "delete it: copied words bring it along"))
}

fn braces(text: &str, tokens: &[Token]) -> Option<Slip> {
    let mut open: Vec<(usize, bool)> = Vec::new();
    let mut suspect = None;
    let mut slashed = false;
    for token in tokens {
        let at = token.range.start;
        match token.kind {
            Kind::Slashdash => slashed = true,
            Kind::End => slashed = false,
            Kind::Open => {
                open.push((at, slashed));
                slashed = false;
                if open.len() > DEPTH_LIMIT {
                    let message = format!("blocks lie more than {DEPTH_LIMIT} deep in each other here");
                    return Some(Slip::new(token.range.clone(), message, "close some of them with `}`"));
                }
                if open.iter().filter(|(_, slashed)| *slashed).count() > SLASHED_LIMIT {
                    let message = format!("more than {SLASHED_LIMIT} blocks taken away with `/-` lie in each other");
                    return Some(Slip::new(token.range.clone(), message, "delete the inner ones, or use /* … */"));
                }
            }
            Kind::Close => match open.pop() {
                Some((opening, _)) if suspect.is_none() && stands_left(text, at, opening) => suspect = Some(opening),
                Some(_) => {}
                None => {
                    let message = "this `}` closes nothing";
                    return Some(Slip::new(token.range.clone(), message, "take it away, or open its block above"));
                }
            },
            _ => {}
        }
    }
    let (innermost, _) = open.last()?;
    let opening = suspect.unwrap_or(*innermost);
    Some(Slip::new(opening..opening + 1, "this `{` is never closed", "close it with `}`"))
}

/// Whether a closing brace begins its line, further left than the line of its opening: it was meant for another.
fn stands_left(text: &str, closing: usize, opening: usize) -> bool {
    let indent = |at: usize| {
        let line = text[..at].rfind(is_newline).map_or(0, |end| end + 1);
        text.get(line..at).map_or((0, true), |head| (head.len() - head.trim_start().len(), head.trim().is_empty()))
    };
    let (closing, first) = indent(closing);
    first && closing < indent(opening).0
}

pub fn shorten(said: &str) -> String {
    let line: String = said.chars().take_while(|letter| !is_newline(*letter)).take(24).collect();
    if line.len() < said.len() { format!("{line}…") } else { line }
}
