//! Slips of one word: a number that is none, a keyword without its sign, a path or colour without quotes.

use crate::source::slips::{Slip, shorten};
use crate::source::tokens::{Kind, Token};

const KEYWORDS: &[&str] = &["#true", "#false", "#null", "#inf", "#-inf", "#nan"];
const UNITS: &[&str] = &["mm", "cm", "in", "pt"];
const FOREIGN_UNITS: &[&str] = &["px", "em", "rem", "inch", "inches", "pc", "m", "\u{2033}", "''"];

pub fn word_slip(text: &str, tokens: &[Token], place: usize) -> Option<Slip> {
    let range = tokens[place].range.clone();
    let word = &text[range.clone()];
    if KEYWORDS.contains(&word) {
        return None;
    }
    let (message, help) = keyword(word)
        .or_else(|| hash(word))
        .or_else(|| quote_marks(text, tokens, place))
        .or_else(|| numeric(word))
        .or_else(|| signs(word))?;
    Some(Slip::new(range, message, help))
}

type Told = (String, String);

fn keyword(word: &str) -> Option<Told> {
    match word {
        "true" | "false" | "null" => Some((format!("`{word}` lacks its sign"), format!("write #{word}"))),
        "inf" | "-inf" | "nan" => {
            Some((format!("`{word}` is kept for numbers"), format!("write \"{word}\" in quotes")))
        }
        _ => None,
    }
}

fn hash(word: &str) -> Option<Told> {
    let tail = word.strip_prefix('#')?;
    if matches!(tail.len(), 3 | 4 | 6 | 8) && tail.bytes().all(|byte| byte.is_ascii_hexdigit()) {
        return Some((format!("the colour `{word}` needs quotes"), format!("write \"{word}\"")));
    }
    if matches!(tail.to_lowercase().as_str(), "true" | "false" | "null") {
        return Some((format!("`{word}` is written small"), format!("write #{}", tail.to_lowercase())));
    }
    let help =
        "comments begin with //; text that begins with # needs quotes; the words with # are #true, #false, #null";
    Some((format!("`{}` means nothing", shorten(word)), help.to_owned()))
}

/// So many words on, a closing apostrophe belongs to another.
const QUOTED_WORDS: usize = 40;

/// Quotes of print and apostrophes do not quote in KDL: the words between them would fall apart.
fn quote_marks(text: &str, tokens: &[Token], place: usize) -> Option<Told> {
    let word = &text[tokens[place].range.clone()];
    let first = word.chars().next()?;
    let told = || {
        let message = format!("`{first}` does not quote here");
        Some((message, "use straight quotes: \"…\"; quotes of print may stand inside them".to_owned()))
    };
    match first {
        '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{ab}' | '\u{bb}' | '\u{2018}' | '\u{201a}' | '`' => told(),
        '\'' => {
            let line = tokens[place..].iter().take_while(|token| token.kind != Kind::End);
            let mut line = line.take(QUOTED_WORDS);
            line.any(|token| text[token.range.clone()].ends_with('\'')).then(told).flatten()
        }
        _ => None,
    }
}

fn numeric(word: &str) -> Option<Told> {
    let bare = word.strip_prefix(['+', '-']).unwrap_or(word);
    let sign = &word[..word.len() - bare.len()];
    if let Some(tail) = bare.strip_prefix('.')
        && tail.starts_with(|letter: char| letter.is_ascii_digit())
    {
        let help = format!("write {sign}0.{tail}");
        return Some((format!("`{word}` lacks its zero"), help));
    }
    if !bare.starts_with(|letter: char| letter.is_ascii_digit()) || is_number(bare) {
        return None;
    }
    let digits = bare.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(bare.len());
    let (number, tail) = bare.split_at(digits);
    let number = number.trim_end_matches('.');
    let unit = tail.to_lowercase();
    let help = if UNITS.contains(&unit.as_str()) {
        let bare =
            if unit == "mm" { format!("{sign}{number} where millimetres are meant, or ") } else { String::new() };
        format!("write {bare}({unit}){sign}{number}: the unit goes before the number")
    } else if unit == "%" {
        format!("write {sign}{number}: percent are bare numbers")
    } else if FOREIGN_UNITS.contains(&unit.as_str()) {
        "units are (mm), (cm), (in) and (pt), before the number: (in)0.5".to_owned()
    } else if let Some(decimals) = tail.strip_prefix(',') {
        if !decimals.is_empty() && decimals.bytes().all(|byte| byte.is_ascii_digit()) {
            format!("decimals follow a point: {sign}{number}.{decimals}")
        } else {
            format!("values part by spaces, without commas: {sign}{number}")
        }
    } else if is_isbn(bare) {
        format!("an ISBN goes in quotes: \"{word}\"")
    } else if tail.starts_with(['x', 'X', '\u{d7}']) && tail.len() > 1 {
        format!("two numbers part by a space: {number} {}", tail.trim_start_matches(['x', 'X', '\u{d7}']))
    } else if tail.is_empty() && !number.contains('.') {
        format!("write {sign}{number}, or {sign}{number}.0")
    } else {
        format!("text that begins with a digit goes in quotes: \"{word}\"")
    };
    Some((format!("`{}` is no number", shorten(word)), help))
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

/// Signs that KDL keeps for itself.
fn signs(word: &str) -> Option<Told> {
    let sign = word.chars().find(|letter| matches!(letter, '/' | '\\' | '[' | ']' | '(' | ')' | '#'))?;
    let help = match sign {
        '/' | '\\' => format!("a path goes in quotes, its folders parted by /: \"{}\"", word.replace('\\', "/")),
        '[' | ']' => "values part by spaces, without brackets".to_owned(),
        '(' | ')' => "a unit is written `(pt)12`; other brackets go in quotes".to_owned(),
        _ => format!("write \"{word}\" in quotes"),
    };
    Some((format!("`{sign}` cannot stand in a bare word"), help))
}
