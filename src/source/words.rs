//! Slips of one word: a keyword without its sign, a path or colour without quotes, quotes of print.

use crate::source::around::{Around, around};
use crate::source::habits::TEXTS;
use crate::source::numbers::numeric;
use crate::source::slip::{Slip, shorten};
use crate::source::tokens::{Token, TokenKind};

const KEYWORDS: &[&str] = &["#true", "#false", "#null", "#inf", "#-inf", "#nan"];

pub fn word_slip(text: &str, tokens: &[Token], place: usize) -> Option<Slip> {
    let range = tokens[place].range.clone();
    let word = &text[range.clone()];
    if KEYWORDS.contains(&word) {
        return None;
    }
    let beside = || around(text, tokens, place);
    let (message, help) = keyword(word)
        .or_else(|| hash(word, &beside))
        .or_else(|| quote_marks(text, tokens, place, &beside))
        .or_else(|| numeric(word, &beside))
        .or_else(|| signs(word))?;
    // Words that need quotes as a whole are not mended one by one.
    let beside = beside();
    let takes_text = TEXTS.contains(&beside.property.unwrap_or(beside.node));
    if takes_text && beside.words > 1 && !word.starts_with(QUOTES) {
        let words = beside.stated.replace('\\', "\\\\").replace('"', "\\\"");
        let help = format!("put the words in quotes: \"{words}\"");
        return Some(Slip::new(beside.run, format!("`{}` stands without quotes", shorten(beside.stated)), help));
    }
    Some(Slip::new(range, message, help))
}

/// A message and its help.
type Answer = (String, String);

fn keyword(word: &str) -> Option<Answer> {
    match word {
        "true" | "false" | "null" => Some((format!("`{word}` is written with a #"), format!("write #{word}"))),
        "inf" | "-inf" | "nan" => {
            Some((format!("`{word}` is kept for numbers"), format!("write \"{word}\" in quotes")))
        }
        _ => None,
    }
}

fn hash<'a>(word: &str, beside: &dyn Fn() -> Around<'a>) -> Option<Answer> {
    let tail = word.strip_prefix('#')?;
    if matches!(tail.len(), 3 | 4 | 6 | 8) && tail.bytes().all(|byte| byte.is_ascii_hexdigit()) {
        return Some(colour(word, tail, &beside()));
    }
    if matches!(tail.to_lowercase().as_str(), "true" | "false" | "null") {
        return Some((format!("`{word}` is written small"), format!("write #{}", tail.to_lowercase())));
    }
    let help =
        "comments begin with //; text that begins with # needs quotes; the words with # are #true, #false, #null";
    Some((format!("`{}` means nothing", shorten(word)), help.to_owned()))
}

/// A screen colour has one place, `rgb` in `swatches`: whoever writes it elsewhere is led there at once.
fn colour(word: &str, digits: &str, beside: &Around<'_>) -> Answer {
    let doubled = |digit: char| [digit, digit];
    let digits: String = match digits.len() {
        3 | 4 => digits.chars().take(3).flat_map(doubled).collect(),
        _ => digits.chars().take(6).collect(),
    };
    let needs_quotes = format!("the colour `{word}` needs quotes");
    match (beside.node, beside.property) {
        ("rgb", _) => (needs_quotes, format!("write \"#{digits}\"")),
        ("swatch", None) if beside.first != word => (
            format!("`{word}` is a colour of screens, and a swatch is stated in ink"),
            format!(
                "write `rgb {} \"#{digits}\"`, which is converted to ink; or state the inks, `swatch {0} c= m= y= k=`",
                beside.first
            ),
        ),
        (node, property) if TEXTS.contains(&property.unwrap_or(node)) => {
            (format!("`{word}` needs quotes"), format!("write \"{word}\""))
        }
        _ => (
            format!("`{word}` is a colour of screens, and stands here without a name"),
            format!("name it once, `swatches {{ rgb NAME \"#{digits}\" }}`, and write the name here"),
        ),
    }
}

/// So many words on, a closing apostrophe belongs to another.
const QUOTED_WORDS: usize = 40;

/// What other programs and hands put around words.
const QUOTES: [char; 10] =
    ['\u{201c}', '\u{201d}', '\u{201e}', '\u{ab}', '\u{bb}', '\u{2018}', '\u{2019}', '\u{201a}', '`', '\''];

/// Quotes of print and apostrophes do not quote in KDL: the words between them would fall apart.
fn quote_marks<'a>(text: &str, tokens: &[Token], place: usize, beside: &dyn Fn() -> Around<'a>) -> Option<Answer> {
    let word = &text[tokens[place].range.clone()];
    let first = word.chars().next()?;
    let answer = || {
        let words = beside().stated.trim_matches(QUOTES);
        let message = format!("`{first}` does not quote here");
        (message, format!("use straight double quotes: \"{}\"; quotes of print may stand inside them", shorten(words)))
    };
    match first {
        // An apostrophe may begin a word; here it is one of two.
        '\'' | '\u{2019}' => {
            let line = tokens[place..].iter().take_while(|token| token.kind != TokenKind::End);
            let mut line = line.take(QUOTED_WORDS);
            line.any(|token| text[token.range.clone()].ends_with(['\'', '\u{2019}'])).then(answer)
        }
        _ if QUOTES.contains(&first) => Some(answer()),
        _ => None,
    }
}

/// Signs that KDL keeps for itself.
fn signs(word: &str) -> Option<Answer> {
    let sign = word.chars().find(|letter| matches!(letter, '/' | '\\' | '[' | ']' | '(' | ')' | '#'))?;
    let help = match sign {
        '/' | '\\' => format!("a path goes in quotes, / between its folders: \"{}\"", word.replace('\\', "/")),
        '[' | ']' => "values stand apart by spaces, without brackets".to_owned(),
        '(' | ')' => "a unit is written `(pt)12`; other brackets go in quotes".to_owned(),
        _ => format!("write \"{word}\" in quotes"),
    };
    Some((format!("`{sign}` cannot stand in a bare word"), help))
}
