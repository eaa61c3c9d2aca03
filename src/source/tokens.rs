//! Tokens: the text of a cover cut at blanks, quotes and braces. It never fails; what does not end is named so.

use std::ops::Range;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// Letters, digits and signs that no blank parts: a name, a number, or a slip.
    Word,
    /// Text in quotes of any kind, with its quotes.
    Text,
    Open,
    Close,
    Equals,
    /// `(pt)`, with its brackets.
    Unit,
    /// `;` or the end of a line.
    End,
    /// `/-`, which takes away what follows.
    Slashdash,
    Blank,
    /// `// …` up to the end of its line.
    LineComment,
    /// `/* … */`, others of its kind inside it.
    BlockComment,
    /// A backslash at the end of a line, with the comments behind it and the line end that it takes away.
    Join,
    Unclosed(Unclosed),
}

impl TokenKind {
    /// Whether it says something to a reader of the cover.
    fn speaks(self) -> bool {
        !matches!(self, TokenKind::Blank | TokenKind::LineComment | TokenKind::BlockComment | TokenKind::Join)
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unclosed {
    /// `"…` up to the end of its line.
    Text,
    /// `"""…`, `#"…` up to the end of the file.
    LongText,
    Comment,
    Unit,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Token {
    pub kind: TokenKind,
    pub range: Range<usize>,
}

/// Those that are neither comments nor blanks.
pub fn speaking(pieces: &[Token]) -> Vec<Token> {
    pieces.iter().filter(|token| token.kind.speaks()).cloned().collect()
}

/// With comments and blanks: the pieces in a row are the text.
pub fn pieces(text: &str) -> Vec<Token> {
    let mut all = Vec::new();
    let mut at = 0;
    while let Some(letter) = text[at..].chars().next() {
        let rest = &text[at..];
        let (kind, length) = match letter {
            '{' => (TokenKind::Open, 1),
            '}' => (TokenKind::Close, 1),
            '=' => (TokenKind::Equals, 1),
            ';' => (TokenKind::End, 1),
            '"' => quoted(rest),
            '#' if rest.trim_start_matches('#').starts_with('"') => raw(rest),
            '(' => unit(rest),
            '\\' => continuation(rest),
            _ if rest.starts_with("//") => (TokenKind::LineComment, line_length(rest)),
            _ if rest.starts_with("/*") => comment(rest),
            _ if rest.starts_with("/-") => (TokenKind::Slashdash, 2),
            _ if is_newline(letter) => (TokenKind::End, letter.len_utf8()),
            _ if is_blank(letter) => (TokenKind::Blank, letter.len_utf8()),
            _ => (TokenKind::Word, word_length(rest)),
        };
        all.push(Token { kind, range: at..at + length });
        at += length;
    }
    all
}

pub fn is_newline(letter: char) -> bool {
    matches!(letter, '\n' | '\r' | '\u{85}' | '\u{b}' | '\u{c}' | '\u{2028}' | '\u{2029}')
}

/// KDL counts every Unicode space as a blank, and a byte order mark at the very beginning.
fn is_blank(letter: char) -> bool {
    letter == '\u{feff}' || (letter.is_whitespace() && !is_newline(letter))
}

fn line_length(rest: &str) -> usize {
    rest.find(is_newline).unwrap_or(rest.len())
}

fn word_length(rest: &str) -> usize {
    let mut before = '\0';
    for (at, letter) in rest.char_indices() {
        let comment = rest[at..].starts_with("//") || rest[at..].starts_with("/*");
        let raw = letter == '#' && before != '#' && rest[at..].trim_start_matches('#').starts_with('"');
        let ends = matches!(letter, '{' | '}' | '=' | ';' | '"' | '(' | '\\') || is_newline(letter) || is_blank(letter);
        if at > 0 && (ends || raw || comment) {
            return at;
        }
        before = letter;
    }
    rest.len()
}

fn quoted(rest: &str) -> (TokenKind, usize) {
    if rest.starts_with("\"\"\"") {
        return long(rest, 3, "\"\"\"", true);
    }
    let mut letters = rest.char_indices().skip(1);
    while let Some((at, letter)) = letters.next() {
        match letter {
            '"' => return (TokenKind::Text, at + 1),
            // A backslash before blanks swallows them all, line ends too.
            '\\' => {
                let tail = &rest[at + 1..];
                let blanks =
                    tail.len() - tail.trim_start_matches(|letter| is_blank(letter) || is_newline(letter)).len();
                let skipped = tail[..blanks].chars().count().max(1);
                letters.nth(skipped - 1);
            }
            _ if is_newline(letter) => return (TokenKind::Unclosed(Unclosed::Text), at),
            _ => {}
        }
    }
    (TokenKind::Unclosed(Unclosed::Text), rest.len())
}

fn raw(rest: &str) -> (TokenKind, usize) {
    let hashes = rest.len() - rest.trim_start_matches('#').len();
    let over_lines = rest[hashes..].strip_prefix("\"\"\"").is_some_and(|tail| tail.starts_with(is_newline));
    if over_lines {
        return long(rest, hashes + 3, &format!("\"\"\"{}", &rest[..hashes]), false);
    }
    // Other raw text ends on its line.
    let line = &rest[..line_length(rest)];
    match long(line, hashes + 1, &format!("\"{}", &rest[..hashes]), false) {
        (TokenKind::Text, length) => (TokenKind::Text, length),
        (_, length) if length == rest.len() => (TokenKind::Unclosed(Unclosed::LongText), length),
        (_, length) => (TokenKind::Unclosed(Unclosed::Text), length),
    }
}

fn long(rest: &str, begin: usize, end: &str, escapes: bool) -> (TokenKind, usize) {
    let mut letters = rest.char_indices().skip_while(|(at, _)| *at < begin);
    while let Some((at, letter)) = letters.next() {
        if rest[at..].starts_with(end) {
            return (TokenKind::Text, at + end.len());
        }
        if escapes && letter == '\\' {
            letters.next();
        }
    }
    (TokenKind::Unclosed(Unclosed::LongText), rest.len())
}

/// Another bracket ends the search, so that a line of brackets is not read again from each of them.
fn unit(rest: &str) -> (TokenKind, usize) {
    match rest[1..].find(|letter| matches!(letter, '(' | ')') || is_newline(letter)) {
        Some(end) if rest[1 + end..].starts_with(')') => (TokenKind::Unit, end + 2),
        _ => (TokenKind::Unclosed(Unclosed::Unit), 1),
    }
}

fn comment(rest: &str) -> (TokenKind, usize) {
    let (mut depth, mut at) = (0_usize, 0);
    while at < rest.len() {
        let (step, length) = match &rest.as_bytes()[at..] {
            [b'/', b'*', ..] => (1, 2),
            [b'*', b'/', ..] => (-1, 2),
            _ => (0, 1),
        };
        depth = depth.saturating_add_signed(step);
        at += length;
        if depth == 0 {
            return (TokenKind::BlockComment, at);
        }
    }
    (TokenKind::Unclosed(Unclosed::Comment), rest.len())
}

/// A backslash at the end of a line joins the next one to it; comments may stand between.
fn continuation(rest: &str) -> (TokenKind, usize) {
    let mut after = rest[1..].trim_start_matches(is_blank);
    while after.starts_with("/*") {
        let (kind, length) = comment(after);
        // One that is not closed is reported by itself.
        if kind != TokenKind::BlockComment {
            return (TokenKind::Join, rest.len() - after.len());
        }
        after = after[length..].trim_start_matches(is_blank);
    }
    if after.starts_with("//") {
        after = &after[line_length(after)..];
    }
    let end = rest.len() - after.len();
    match after.chars().next() {
        None => (TokenKind::Join, rest.len()),
        Some(_) if after.starts_with("\r\n") => (TokenKind::Join, end + 2),
        Some(letter) if is_newline(letter) => (TokenKind::Join, end + letter.len_utf8()),
        Some(_) => (TokenKind::Word, 1),
    }
}

/// The unit of `( pt )`, without its brackets.
pub fn tight(unit: &str) -> &str {
    unit.trim_start_matches('(').trim_end_matches(')').trim()
}
