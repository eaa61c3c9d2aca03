//! Count: how many, and of what.

/// `1 error`, `2 errors`.
pub fn count(number: usize, word: &str) -> String {
    if number == 1 { format!("1 {word}") } else { format!("{number} {word}s") }
}
