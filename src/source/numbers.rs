//! Slips of numbers: units and signs behind them, commas in them, digits that are text.

use crate::source::around::Around;
use crate::source::habits::{IN_PERCENT, NOT_IN_PERCENT};
use crate::source::slip::shorten;

const UNITS: &[&str] = &["mm", "cm", "in", "pt"];
const FOREIGN_UNITS: &[&str] = &["px", "em", "rem", "inch", "inches", "pc", "m", "\u{2033}", "''"];
/// What stands behind numbers that are bare here, and what such a number counts.
const COUNTED: &[(&str, &str)] = &[
    ("\u{b0}", "degrees"),
    ("deg", "degrees"),
    ("ppi", "pixels per inch"),
    ("dpi", "pixels per inch"),
    ("p", "pages"),
    ("pp", "pages"),
    ("p.", "pages"),
    ("pp.", "pages"),
    ("pages", "pages"),
    ("gsm", "grammes per square metre"),
    ("g", "grammes per square metre"),
    ("g/m2", "grammes per square metre"),
    ("g/m\u{b2}", "grammes per square metre"),
];

/// A word that begins like a number and is none: what is wrong, and what to write.
pub fn numeric<'a>(word: &str, beside: &dyn Fn() -> Around<'a>) -> Option<(String, String)> {
    let bare = word.strip_prefix(['+', '-']).unwrap_or(word);
    let sign = &word[..word.len() - bare.len()];
    if let Some(tail) = bare.strip_prefix('.')
        && tail.starts_with(|letter: char| letter.is_ascii_digit())
    {
        let help = format!("write {sign}0.{tail}");
        return Some((format!("`{}` lacks its zero", shorten(word)), help));
    }
    if !bare.starts_with(|letter: char| letter.is_ascii_digit()) || is_number(bare) {
        return None;
    }
    let digits = bare.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(bare.len());
    let (number, tail) = bare.split_at(digits);
    let number = number.trim_end_matches('.');
    let unit = tail.to_lowercase();
    if let Some(decimals) = tail.strip_prefix(',') {
        return Some(comma(word, &format!("{sign}{number}"), decimals, &beside()));
    }
    let help = if UNITS.contains(&unit.as_str()) {
        let bare =
            if unit == "mm" { format!("{sign}{number} where millimetres are meant, or ") } else { String::new() };
        format!("write {bare}({unit}){sign}{number}: the unit goes before the number")
    } else if unit == "%" {
        percent(&format!("{sign}{number}"), &beside())
    } else if FOREIGN_UNITS.contains(&unit.as_str()) {
        "units are (mm), (cm), (in) and (pt), before the number: (in)0.5".to_owned()
    } else if let Some((_, what)) = COUNTED.iter().find(|(sign, _)| *sign == unit) {
        counted(&format!("{sign}{number}"), what, &beside())
    } else if is_date(bare) {
        format!("a date goes in quotes: \"{word}\"")
    } else if is_isbn(bare) {
        format!("an ISBN goes in quotes: \"{word}\"")
    } else if tail.starts_with(['x', 'X', '\u{d7}']) && tail.len() > 1 {
        format!("two numbers stand apart by a space: {number} {}", tail.trim_start_matches(['x', 'X', '\u{d7}']))
    } else if let Some(other) = tail.strip_prefix(['-', '\u{2013}']).filter(|other| is_number(other)) {
        format!("where two numbers go, a space stands between them: {number} {other}; text goes in quotes: \"{word}\"")
    } else if tail.is_empty() && !number.contains('.') {
        format!("write {sign}{number}, or {sign}{number}.0")
    } else {
        format!("text that begins with a digit goes in quotes: \"{word}\"")
    };
    Some((format!("`{}` is not a number", shorten(word)), help))
}

/// `129,` and `12,5`: one parts values, the other may part values or decimals.
fn comma(word: &str, number: &str, tail: &str, beside: &Around<'_>) -> (String, String) {
    if tail.is_empty() {
        // Words after the comma begin another setting.
        let help = if beside.stated.chars().any(char::is_alphabetic) {
            let first = beside.stated.split(',').next().unwrap_or_default();
            format!("no commas: `;` stands between settings: `{} {}; …`", beside.node, shorten(first))
        } else {
            let apart = beside.stated.replace(',', "");
            format!("no commas: values stand apart by spaces: `{} {}`", beside.node, shorten(&apart))
        };
        return (format!("a comma stands after `{number}`"), help);
    }
    let message = format!("`{}` is not a number", shorten(word));
    if tail.bytes().all(|byte| byte.is_ascii_digit()) {
        (message, format!("decimals take a point: {number}.{tail}; two values stand apart by a space: {number} {tail}"))
    } else {
        (message, format!("no commas: values stand apart by spaces: `{number} {tail}`"))
    }
}

fn counted(number: &str, what: &str, beside: &Around<'_>) -> String {
    let of_paper = what.starts_with("grammes") && beside.property != Some("grammage");
    let written = if of_paper { format!("`paper grammage={number} bulk=1.5`") } else { number.to_owned() };
    format!("write {written}: {what} are a bare number")
}

/// A percent sign: taken away where a word counts in percent; elsewhere the bare number would mean something else.
fn percent(number: &str, beside: &Around<'_>) -> String {
    let taker = beside.property.unwrap_or(beside.node);
    if IN_PERCENT.contains(&taker) {
        return format!("write {number}: percent are bare numbers");
    }
    match NOT_IN_PERCENT.iter().find(|(word, _)| *word == taker) {
        Some((_, instead)) => format!("`{taker}` is not a percentage: {instead}"),
        None if taker.is_empty() => "percent are bare numbers, behind the words that take them".to_owned(),
        None => format!(
            "`{taker}` is not a percentage: a bare number there counts in the word's own unit; see `jaconet explain units`"
        ),
    }
}

/// `2026-04-02`
fn is_date(word: &str) -> bool {
    let parts: Vec<&str> = word.split('-').collect();
    matches!(parts[..], [year, month, day] if (year.len(), month.len(), day.len()) == (4, 2, 2))
        && parts.concat().bytes().all(|byte| byte.is_ascii_digit())
}

fn is_isbn(word: &str) -> bool {
    let digits: usize = word.bytes().filter(u8::is_ascii_digit).count();
    let last = word.ends_with(['X', 'x']);
    let body = word.trim_end_matches(['X', 'x']);
    body.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-') && (digits == 13 || digits + usize::from(last) == 10)
}

/// A number as KDL writes it, its sign taken off.
fn is_number(bare: &str) -> bool {
    let digits = |part: &str, good: fn(u8) -> bool| {
        part.bytes().next().is_some_and(good) && part.bytes().all(|byte| good(byte) || byte == b'_')
    };
    let decimal = |part: &str| digits(part, |byte| byte.is_ascii_digit());
    for (prefix, good) in [
        ("0x", (|byte| byte.is_ascii_hexdigit()) as fn(u8) -> bool),
        ("0o", |byte| matches!(byte, b'0'..=b'7')),
        ("0b", |byte| matches!(byte, b'0' | b'1')),
    ] {
        if let Some(tail) = bare.strip_prefix(prefix) {
            return digits(tail, good);
        }
    }
    let (mantissa, exponent) = match bare.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, Some(exponent.strip_prefix(['+', '-']).unwrap_or(exponent))),
        None => (bare, None),
    };
    let (whole, decimals) = match mantissa.split_once('.') {
        Some((whole, decimals)) => (whole, Some(decimals)),
        None => (mantissa, None),
    };
    decimal(whole) && decimals.is_none_or(decimal) && exponent.is_none_or(decimal)
}
