//! Mutate: sound covers spoiled at random, as hands and programs spoil them.

use crate::chance::Chance;

/// One change anywhere: letters and lines lost, doubled or exchanged, numbers gone wild, words put for others.
pub fn spoil(text: &str, chance: &mut Chance) -> String {
    const NUMBERS: [&str; 10] = ["0", "-1", "1e9", "-0.0001", "#nan", "#inf", "9999", "(in)3", "(px)2", "\"7\""];
    let mut words: Vec<&str> = text.split_inclusive([' ', '\n', ';', '=']).collect();
    let mut lines: Vec<&str> = text.split_inclusive('\n').collect();
    match chance.below(8) {
        0 => drop(lines.remove(chance.below(lines.len()))),
        1 => lines.insert(chance.below(lines.len()), lines[chance.below(lines.len())]),
        2 => {
            let (one, other) = (chance.below(lines.len()), chance.below(lines.len()));
            lines.swap(one, other);
        }
        3 => return without_letter(text, chance),
        4 => {
            let at = chance.below(words.len());
            words[at] = words[chance.below(words.len())];
            return words.concat();
        }
        5 => {
            let numbers: Vec<usize> =
                (0..words.len()).filter(|at| words[*at].starts_with(|c: char| c.is_ascii_digit())).collect();
            if numbers.is_empty() {
                return words.concat();
            }
            let at = *chance.one(&numbers);
            let end = words[at].trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
            return [&words[..at].concat(), *chance.one(&NUMBERS), end, &words[at + 1..].concat()].concat();
        }
        6 => drop(words.remove(chance.below(words.len()))),
        _ => {
            let at = chance.below(words.len());
            words.insert(at, *chance.one(&["{ ", "} ", "\" ", "; ", "/* ", "\u{202e} ", "\u{0301}", "a ", "(", "= "]));
        }
    }
    if words.concat() == text { lines.concat() } else { words.concat() }
}

fn without_letter(text: &str, chance: &mut Chance) -> String {
    let at = text.floor_char_boundary(chance.below(text.len()));
    let mut rest = text[at..].chars();
    rest.next();
    format!("{}{}", &text[..at], rest.as_str())
}

/// A word that begins a statement gets a tail that no known word has.
pub fn misspell(text: &str, chance: &mut Chance) -> String {
    let places = statements(text);
    let at = *chance.one(&places);
    format!("{}zz{}", &text[..at], &text[at..])
}

/// The end of the first word of every statement outside comments and quotes.
fn statements(text: &str) -> Vec<usize> {
    let (mut places, mut begins, mut quoted) = (Vec::new(), true, false);
    let mut at = 0;
    while at < text.len() {
        let rest = &text[at..];
        let letter = rest.chars().next().unwrap_or_default();
        if quoted || letter == '"' {
            quoted ^= letter == '"';
        } else if rest.starts_with("//") {
            at += rest.find('\n').unwrap_or(rest.len());
            continue;
        } else if matches!(letter, '{' | ';' | '\n') {
            begins = true;
        } else if begins && letter.is_alphabetic() {
            at += rest.find(|c: char| !c.is_alphanumeric() && c != '-').unwrap_or(rest.len());
            places.push(at);
            begins = false;
            continue;
        }
        at += letter.len_utf8();
    }
    places
}
