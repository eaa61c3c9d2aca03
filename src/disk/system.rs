//! What the system says of a file that it does not give, in our words.

/// What the system said, without its number.
pub fn in_words(error: &std::io::Error) -> String {
    let said = error.to_string();
    let said = said.split(" (os error").next().unwrap_or_default();
    let mut letters = said.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
