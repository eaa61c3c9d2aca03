//! Hidden letters: controls and marks of direction that nobody sees in a text, by which words come out broken or reversed.

/// Controls but for blanks and line ends, and the embeddings, overrides and isolates of UAX 9 (2.1, 2.2, 2.4), each with
/// its byte.
pub fn hidden(text: &str) -> impl Iterator<Item = (usize, char)> {
    text.char_indices().filter(|(_, letter)| is_hidden(*letter))
}

fn is_hidden(letter: char) -> bool {
    letter.is_control() && !letter.is_whitespace()
        || matches!(letter, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// What to say of one: a message, and the way out.
pub fn hidden_words(letter: char) -> (String, &'static str) {
    let message = format!("an unseen letter stands here, U+{:04X}", u32::from(letter));
    (message, "type these words again: copied ones bring it along")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_and_marks_of_letters_are_no_hidden_letters() {
        assert_eq!(hidden("a\tb\r\nc\u{200f}\u{200d}\u{ad}").count(), 0);
        assert_eq!(hidden("a\u{0}b\u{2069}").collect::<Vec<_>>(), [(1, '\0'), (3, '\u{2069}')]);
    }
}
