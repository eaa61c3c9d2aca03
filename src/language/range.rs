//! Ranges: numbers that make sense, asked for where they stand.

use crate::ground::{Finding, Length, Severity, Spanned, number};
use crate::source::{Datum, Reader, Unit};

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
    let value = value?;
    let counted = if unit == Unit::Mm { value.value.mm() } else { value.value.pt() };
    if (least..=most).contains(&counted) {
        return Some(counted);
    }
    let message = format!("{} {} are out of range here", number(counted), unit.word());
    let help =
        format!("write {} to {} {}; another unit stands first: (in)5.5", number(least), number(most), unit.word());
    word.error(value.span, message, help);
    None
}

/// A percentage as a share; out of range is an error.
pub fn percent(word: &Reader<'_>) -> Option<f64> {
    let number = word.number("a percentage")?;
    check_percent(word, number)
}

pub fn percent_property(reader: &Reader<'_>, name: &'static str) -> Option<f64> {
    let number = reader.number_property(name)?;
    check_percent(reader, number)
}

fn check_percent(reader: &Reader<'_>, said: Spanned<f64>) -> Option<f64> {
    if (0.0..=100.0).contains(&said.value) {
        if said.value > 0.0 && said.value < 1.0 {
            let shown = number(said.value);
            let message = format!("{shown} is {shown} percent: hardly anything");
            let help = format!("write {} if that is meant", number(said.value * 100.0));
            let finding = Finding::new(Severity::Warning, "language", said.span, message).help(help);
            reader.findings().borrow_mut().push(finding);
        }
        return Some(said.value / 100.0);
    }
    let message = format!("{} is no percentage", number(said.value));
    reader.error(said.span, message, "write a number from 0 to 100");
    None
}

/// Whether an argument is a bare word rather than a number, for words that take either.
pub fn says_word(reader: &Reader<'_>) -> bool {
    matches!(reader.peek().map(|value| &value.datum), Some(Datum::Text(_)))
}
