//! What the system says of a file that it does not give, in our words.

/// What the system said, without its number.
pub fn in_words(error: &std::io::Error) -> String {
    let stated = error.to_string();
    let stated = stated.split(" (os error").next().unwrap_or_default();
    let mut letters = stated.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
