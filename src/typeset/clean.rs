//! Clean: words with one kind of blank and one of line break.

/// Where the author breaks a line: U+2028, in the paragraph's text.
pub const CHOSEN_BREAK: char = '\u{2028}';

/// Words with one kind of blank and one of line break. A line begins with a letter.
pub fn clean(words: &str, mut begins: bool) -> String {
    let mut clean = String::with_capacity(words.len());
    for letter in words.chars() {
        let letter = match letter {
            '\n' | '\u{2029}' => CHOSEN_BREAK,
            '\t' | '\r' | '\u{B}' | '\u{C}' | '\u{85}' => ' ',
            letter => letter,
        };
        if letter.is_control() || letter == ' ' && begins {
            continue;
        }
        begins = letter == CHOSEN_BREAK;
        clean.push(letter);
    }
    clean
}

/// Whether a chosen break stands here.
pub fn is_chosen_break(text: &str, at: usize) -> bool {
    text[at..].starts_with(CHOSEN_BREAK)
}
