//! References of XML: to what is called by a name, and to letters by their numbers.

use std::borrow::Cow;

/// What stands in a file for a character that would be markup there.
pub const MARKUP: [(&str, char); 5] = [("lt", '<'), ("gt", '>'), ("amp", '&'), ("quot", '"'), ("apos", '\'')];

/// A reference at the beginning of a text: what lies between `&` and `;`, and what follows.
pub fn reference(text: &str) -> Option<(&str, &str)> {
    let inside = text.strip_prefix('&')?;
    let ends = |letter: char| matches!(letter, ';' | '<' | '>' | '&' | '"' | '\'') || letter.is_whitespace();
    let (name, rest) = inside.split_at(inside.find(ends)?);
    Some((name, rest.strip_prefix(';')?)).filter(|_| !name.is_empty())
}

/// What a name stands for once its numbers are letters: markup by its number is markup where the name is called (4.5).
pub fn literal(value: &str) -> Cow<'_, str> {
    let (mut out, mut rest) = (String::new(), value);
    while let Some(at) = rest.find("&#") {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let numbered = reference(rest).and_then(|(name, after)| Some((letter(name)?, after)));
        if let Some((letter, after)) = numbered {
            out.push(letter);
            rest = after;
        } else {
            out.push_str("&#");
            rest = &rest[2..];
        }
    }
    if rest.len() == value.len() {
        return Cow::Borrowed(value);
    }
    out.push_str(rest);
    Cow::Owned(out)
}

/// The character of a number.
fn letter(name: &str) -> Option<char> {
    let digits = name.strip_prefix('#')?;
    let number = match digits.strip_prefix('x') {
        Some(hex) => u32::from_str_radix(hex, 16).ok()?,
        None => digits.parse().ok()?,
    };
    char::from_u32(number)
}

/// The character of a number, `#35` or `#x23`, where it may stand as it is.
pub fn numbered(name: &str) -> Option<char> {
    let letter = letter(name)?;
    // White space that is written by its number is kept where other white space is not.
    let stays = letter.is_whitespace() || letter.is_control() || MARKUP.iter().any(|(_, markup)| *markup == letter);
    (!stays).then_some(letter)
}
