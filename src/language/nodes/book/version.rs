//! Version: the proof round and its date.

use crate::cover::Book;
use crate::ground::{Spanned, number};
use crate::language::nodes::book::words::DATE;
use crate::source::Reader;

pub fn version(word: &Reader<'_>, book: &mut Book) {
    if let Some(round) = word.number() {
        book.version = Some(round.value as u32);
        book.words.insert(word.word.name.to_owned(), Spanned::new(number(round.value), round.span));
    }
    if let Some(date) = word.text_property(&DATE) {
        if is_date(&date.value) {
            book.words.insert(DATE.name.to_owned(), date.clone());
            book.date = Some(date.value);
        } else {
            word.error(date.span, format!("{:?} is not a day of the calendar", date.value), DATE_HELP);
        }
    }
}

pub const DATE_HELP: &str = "write it as year, month and day: \"2026-04-02\"";

/// A day of the calendar, `YYYY-MM-DD` (ISO 8601).
pub fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else { return false };
    if (year.len(), month.len(), day.len()) != (4, 2, 2) {
        return false;
    }
    let (Ok(year), Ok(month), Ok(day)) = (year.parse::<u32>(), month.parse::<u32>(), day.parse::<u32>()) else {
        return false;
    };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    (1..=days).contains(&day)
}
