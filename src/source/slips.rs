//! Slips: what beginners of KDL write, every one at its narrowest place and in our words, one a line.

use crate::source::braces::braces;
use crate::source::brackets::bracket_slip;
use crate::source::slip::{Slip, shorten};
use crate::source::tokens::{Token, TokenKind, Unclosed, is_newline};
use crate::source::words::word_slip;
use std::ops::Range;

/// Who reads so many reads no further.
const LIMIT: usize = 100;

/// The first slip of every line. What follows on the line may only be a consequence.
pub fn slips(text: &str, tokens: &[Token]) -> Vec<Slip> {
    let mut found: Vec<Slip> = Vec::new();
    let mut place = 0;
    while place < tokens.len() && found.len() < LIMIT {
        match slip_at(text, tokens, place) {
            Some(slip) => {
                let reach = slip.range.end;
                found.push(slip);
                let ends =
                    |token: &Token| token.range.start >= reach && text[token.range.clone()].starts_with(is_newline);
                place = tokens[place..].iter().position(ends).map_or(tokens.len(), |end| place + end);
            }
            None => place += 1,
        }
    }
    found.extend(forbidden_letter(text));
    found.sort_by_key(|slip| slip.range.start);
    // An unclosed brace shows at its opening, far above its consequences: whatever else is wrong comes first.
    if found.is_empty() { braces(text, tokens).into_iter().collect() } else { found }
}

fn slip_at(text: &str, tokens: &[Token], place: usize) -> Option<Slip> {
    let token = &tokens[place];
    let range = token.range.clone();
    let stated = &text[range.clone()];
    let previous = place.checked_sub(1).map(|before| &tokens[before]);
    let starts = previous.is_none_or(|token| matches!(token.kind, TokenKind::End | TokenKind::Open));
    let touches = previous.is_some_and(|token| token.range.end == range.start);
    let is_value = matches!(token.kind, TokenKind::Word | TokenKind::Text);
    match (token.kind, previous.map(|token| token.kind)) {
        (TokenKind::Unclosed(what), before) => {
            Some(unclosed(what, text, range, touches && before == Some(TokenKind::Word)))
        }
        (TokenKind::Open, _) if starts => Some(Slip::new(
            range,
            "`{` stands where a name should",
            "put `{` at the end of the line with the name: `panel front {`",
        )),
        (TokenKind::Equals, _) if starts => {
            Some(Slip::new(range, "`=` stands where a name should", "write `name value`"))
        }
        (TokenKind::Equals, _) => equals(text, tokens, place),
        (TokenKind::Word, Some(TokenKind::Text)) if touches && stated.starts_with(',') => Some(Slip::new(
            range.start..range.start + 1,
            "a comma stands between two values",
            "no commas: values stand apart by spaces",
        )),
        (TokenKind::Word, _) if starts && stated.ends_with(':') && stated.len() > 1 => Some(Slip::new(
            range.end - 1..range.end,
            "a colon stands behind the first name of a line",
            format!("the value follows after a space: `{} …`", stated.trim_end_matches(':')),
        )),
        (_, Some(TokenKind::Close)) if is_value => Some(Slip::new(
            range,
            format!("`{}` follows `}}` on the same line", shorten(stated)),
            "begin a new line, or put `;` between",
        )),
        (_, Some(TokenKind::Text)) if is_value && touches => Some(Slip::new(
            range,
            format!("`{}` follows the closing quote without a space", shorten(stated)),
            "a quote mark inside text is written \\\"; two values stand apart by a space",
        )),
        (TokenKind::Text, Some(TokenKind::Word)) if touches => Some(inch_or_quote(text, tokens, place)),
        (TokenKind::Text, _) => text_slip(stated, range.start),
        (TokenKind::Word, _) => word_slip(text, tokens, place),
        (TokenKind::Unit, Some(TokenKind::Word)) if touches => Some(bracket_slip(text, tokens, place)),
        (TokenKind::Unit, _) if stated.contains("/*") => Some(Slip::new(
            range,
            "a comment stands inside the brackets of a unit",
            "put it before or behind: `(pt)12`",
        )),
        _ => None,
    }
}

fn unclosed(what: Unclosed, text: &str, range: Range<usize>, after_word: bool) -> Slip {
    let start = range.start;
    match what {
        Unclosed::Text if after_word => Slip::new(
            start..start + 1,
            "this quote closes nothing: none was opened before it",
            "put a quote before the first of the words, too: `title \"The Cold Ridge\"`",
        ),
        Unclosed::Text => {
            let words = text[range].trim_start_matches('#').trim_start_matches('"');
            let words = words.split([';', '{', '}', '=']).next().unwrap_or_default().trim_end();
            let help = format!(
                "close it behind the last word, `\"{}\"`; text over several lines stands between two lines of \"\"\"",
                shorten(words)
            );
            Slip::new(start..start + 1, "the quote that opens here is not closed on its line", help)
        }
        Unclosed::LongText => Slip::new(
            start..start + 1,
            "the text that opens here is not closed before the end of the file",
            "end it as it began: with the same quotes, on a line of their own",
        ),
        Unclosed::Comment => {
            Slip::new(start..start + 2, "the comment that opens here is not closed", "close it with */")
        }
        Unclosed::Unit => Slip::new(range, "this bracket is not closed", "a unit is written `(pt)12`"),
    }
}

/// `title = "x"`: a property needs a node to belong to.
fn equals(text: &str, tokens: &[Token], place: usize) -> Option<Slip> {
    let range = tokens[place].range.clone();
    let begins = |place: usize| place == 0 || matches!(tokens[place - 1].kind, TokenKind::End | TokenKind::Open);
    // `/-` takes away a whole node, or a property within one.
    let slashed = place >= 2 && tokens[place - 2].kind == TokenKind::Slashdash;
    let key_starts = if slashed { begins(place - 2) } else { begins(place - 1) };
    let key = tokens[place - 1].kind;
    let value = tokens.get(place + 1);
    if key_starts && matches!(key, TokenKind::Word | TokenKind::Text) {
        let name = &text[tokens[place - 1].range.clone()];
        let stated = value.filter(|value| matches!(value.kind, TokenKind::Word | TokenKind::Text));
        let stated = stated.map_or("…", |value| &text[value.range.clone()]);
        let help = format!(
            "the value follows after a space: `{name} {}`; only properties behind it take `=`",
            shorten(stated)
        );
        return Some(Slip::new(range, "`=` follows the first name of a line", help));
    }
    let known = value.is_some_and(|value| {
        matches!(value.kind, TokenKind::Word | TokenKind::Text | TokenKind::Unit | TokenKind::Unclosed(_))
    });
    let key = &text[tokens[place - 1].range.clone()];
    // `words={title}`
    let braced = value.filter(|value| value.kind == TokenKind::Open).zip(tokens.get(place + 2));
    let braced = braced.filter(|(_, fact)| fact.kind == TokenKind::Word).map(|(_, fact)| &text[fact.range.clone()]);
    (!known).then(|| {
        let help = match braced {
            Some(fact) => format!("a fact in braces is text, in quotes: `{key}=\"{{{fact}}}\"`"),
            None => format!("write the value right after it, or take `{key}=` away"),
        };
        Slip::new(range, "nothing follows `=`", help)
    })
}

fn inch_or_quote(text: &str, tokens: &[Token], place: usize) -> Slip {
    let before = &text[tokens[place - 1].range.clone()];
    let range = tokens[place].range.clone();
    let help = if before.ends_with(|letter: char| letter.is_ascii_digit()) {
        format!("inches are written `(in){before}`; two values stand apart by a space")
    } else {
        format!("properties are written `{before}=\"…\"`; two values stand apart by a space; words stand in two quotes")
    };
    Slip::new(range.start..range.start + 1, format!("a quote opens right after `{}`", shorten(before)), help)
}

/// What may follow a backslash in quotes.
fn text_slip(stated: &str, start: usize) -> Option<Slip> {
    if stated.starts_with('#') {
        return None;
    }
    if stated.starts_with("\"\"\"") && !stated[3..].starts_with(is_newline) {
        let message = "text between \"\"\" begins on a line of its own";
        return Some(Slip::new(start..start + 3, message, "begin a new line after \"\"\", or use single quotes"));
    }
    let mut letters = stated.char_indices();
    while let Some((at, letter)) = letters.next() {
        if letter != '\\' {
            continue;
        }
        let (_, escaped) = letters.next()?;
        if !(matches!(escaped, '"' | '\\' | 'b' | 'f' | 'n' | 'r' | 't' | 's' | 'u') || escaped.is_whitespace()) {
            let range = start + at..start + at + 1 + escaped.len_utf8();
            let help = "the folders of a path stand apart by /; a backslash itself is written \\\\";
            return Some(Slip::new(range, format!("`\\{escaped}` means nothing in quotes"), help));
        }
    }
    None
}

/// Letters that no KDL text may hold: controls, and marks that turn the direction of writing unseen.
fn forbidden_letter(text: &str) -> Option<Slip> {
    let forbidden = |letter: char| {
        matches!(letter, '\0'..='\u{8}' | '\u{e}'..='\u{1f}' | '\u{7f}' | '\u{200e}'..='\u{200f}'
            | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
    };
    let (at, letter) =
        text.char_indices().find(|(at, letter)| forbidden(*letter) && !(*at == 0 && *letter == '\u{feff}'))?;
    let message = format!("an unseen character stands here, U+{:04X}", letter as u32);
    Some(Slip::new(at..at + letter.len_utf8(), message, "delete it: copied words bring it along"))
}
