//! Braces: blocks that are not closed, close nothing, or lie too deep in each other.

use crate::source::slip::Slip;
use crate::source::tokens::{Token, TokenKind, is_newline};

/// Blocks may lie this deep in each other; a cover needs about six.
const DEPTH_LIMIT: usize = 48;
/// Blocks taken away with `/-` inside each other: each level costs the parser twice the time of the one before.
const SLASHED_LIMIT: usize = 6;

struct Opened {
    at: usize,
    slashed: bool,
    /// Blanks before its line.
    indent: usize,
}

pub fn braces(text: &str, tokens: &[Token]) -> Option<Slip> {
    let mut open: Vec<Opened> = Vec::new();
    let mut suspect = None;
    let mut slashed = false;
    let mut lines = Lines { text, seen: 0, start: 0, indent: blanks(text) };
    for token in tokens {
        let at = token.range.start;
        match token.kind {
            TokenKind::Slashdash => slashed = true,
            TokenKind::End => slashed = false,
            TokenKind::Open => {
                lines.go_to(at);
                open.push(Opened { at, slashed, indent: lines.indent });
                slashed = false;
                if open.len() > DEPTH_LIMIT {
                    let message = format!("blocks lie more than {DEPTH_LIMIT} deep in each other here");
                    return Some(Slip::new(token.range.clone(), message, "close some of them with `}`"));
                }
                if open.iter().filter(|block| block.slashed).count() > SLASHED_LIMIT {
                    let message = format!("more than {SLASHED_LIMIT} blocks taken away with `/-` lie in each other");
                    return Some(Slip::new(token.range.clone(), message, "delete the inner ones, or use /* … */"));
                }
            }
            TokenKind::Close => {
                lines.go_to(at);
                let Some(block) = open.pop() else {
                    let message = "this `}` closes nothing";
                    return Some(Slip::new(token.range.clone(), message, "take it away, or open its block above"));
                };
                // One that begins its line further left than the line of its opening was meant for another.
                if suspect.is_none() && at == lines.start + lines.indent && lines.indent < block.indent {
                    suspect = Some(block.at);
                }
            }
            _ => {}
        }
    }
    let opening = suspect.or(open.last().map(|block| block.at)).filter(|_| !open.is_empty())?;
    Some(Slip::new(opening..opening + 1, "this `{` is never closed", "close it with `}`"))
}

/// The line of a place, for places in their order: no part of the text is read twice.
struct Lines<'a> {
    text: &'a str,
    seen: usize,
    start: usize,
    indent: usize,
}

impl Lines<'_> {
    fn go_to(&mut self, at: usize) {
        if let Some(end) = self.text[self.seen..at].rfind(is_newline) {
            let end = self.seen + end;
            self.start = end + self.text[end..].chars().next().map_or(0, char::len_utf8);
            self.indent = blanks(&self.text[self.start..]);
        }
        self.seen = at;
    }
}

fn blanks(line: &str) -> usize {
    line.len() - line.trim_start_matches(|letter: char| letter.is_whitespace() && !is_newline(letter)).len()
}
