//! Ranges: numbers that make sense, asked for where they stand.

use crate::ground::{Length, Spanned, number};
use crate::source::{Reader, Unit};

/// A number within its range; one beyond it is an error.
pub fn ranged(word: &Reader<'_>, value: Option<Spanned<f64>>, least: f64, most: f64) -> Option<f64> {
    let value = value?;
    if (least..=most).contains(&value.value) {
        return Some(value.value);
    }
    let message = format!("{} is out of range here", number(value.value));
    word.error(value.span, message, format!("write a number from {} to {}", number(least), number(most)));
    None
}

/// A length within its range, in the unit that a bare number has here.
pub fn ranged_length(
    word: &Reader<'_>,
    value: Option<Spanned<Length>>,
    unit: Unit,
    least: f64,
    most: f64,
) -> Option<f64> {
    let counted = |length: Length| if unit == Unit::Mm { length.mm() } else { length.pt() };
    ranged(word, value.map(|length| Spanned::new(counted(length.value), length.span)), least, most)
}
