//! References of XML: to what is called by a name, and to letters by their numbers.

/// What stands in a file for a character that would be markup there.
pub const MARKUP: [(&str, char); 5] = [("lt", '<'), ("gt", '>'), ("amp", '&'), ("quot", '"'), ("apos", '\'')];

/// A reference at the beginning of a text: what lies between `&` and `;`, and what follows.
pub fn reference(text: &str) -> Option<(&str, &str)> {
    let (name, rest) = text.strip_prefix('&')?.split_once(';')?;
    let is_name = !name.is_empty() && !name.contains(['<', '>', '&', '"', '\'']) && !name.contains(char::is_whitespace);
    is_name.then_some((name, rest))
}

/// The character of a number, `#35` or `#x23`, where it may stand as it is.
pub fn numbered(name: &str) -> Option<char> {
    let digits = name.strip_prefix('#')?;
    let number = match digits.strip_prefix('x') {
        Some(hex) => u32::from_str_radix(hex, 16).ok()?,
        None => digits.parse().ok()?,
    };
    let letter = char::from_u32(number)?;
    // White space that is written by its number is kept where other white space is not.
    let stays = letter.is_whitespace() || letter.is_control() || MARKUP.iter().any(|(_, markup)| *markup == letter);
    (!stays).then_some(letter)
}

/// Whether a number is that of `<` or `&`.
pub fn is_markup(name: &str) -> bool {
    let digits = name.trim_start_matches('#');
    let number = digits.strip_prefix('x').map_or_else(|| digits.parse().ok(), |hex| u32::from_str_radix(hex, 16).ok());
    matches!(number, Some(0x26 | 0x3c))
}
