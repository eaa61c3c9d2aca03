//! Spellings of which one is meant to be the other.

use crate::check::words::folded;

/// A title or a person's name.
pub struct PersonName {
    pub fact: String,
    pub said: String,
    pub folded: String,
    /// Word by word, folded.
    pub words: Vec<String>,
    person: bool,
}

/// How alike two spellings are of which one is meant to be the other.
const ALIKE: f64 = 0.85;
/// Two letters off is still the same name when it has so many.
const LONG: usize = 9;
/// The same within one word.
const LONG_WORD: usize = 7;
/// A word that can be misspelt.
const SHORT_WORD: usize = 4;

impl PersonName {
    pub fn new(fact: &str, said: &str, person: bool) -> PersonName {
        let words = said.split_whitespace().map(folded).filter(|word| !word.is_empty()).collect();
        PersonName { fact: fact.to_owned(), said: said.to_owned(), folded: folded(said), words, person }
    }

    /// Whether it is written in signs that are words of their own (Unicode, from the CJK radicals on).
    pub fn is_of_signs(&self) -> bool {
        self.folded.chars().any(|letter| letter >= '\u{2E80}')
    }

    /// A person's last name.
    pub fn surname(&self) -> Option<&str> {
        self.words.last().filter(|_| self.person && self.words.len() > 1).map(String::as_str)
    }
}

pub fn letters(text: &str) -> usize {
    text.chars().count()
}

/// A slip of one letter, or of two in a long name.
pub fn near(said: &str, name: &str) -> bool {
    let off = strsim::damerau_levenshtein(said, name);
    let apart = letters(said).abs_diff(letters(name)) <= 2;
    let signs = name.chars().any(|letter| letter >= '\u{2E80}');
    match off {
        0 => false,
        1 if signs => letters(name) >= 3,
        2 if signs => letters(name) >= 5,
        _ if signs => false,
        1 | 2 if letters(name) >= LONG => true,
        _ => apart && strsim::normalized_damerau_levenshtein(said, name) > ALIKE,
    }
}

/// A slip within some words of a name: a surname by itself, initials, a word of a title exchanged or left out.
pub fn slip(said: &[String], name: &PersonName) -> bool {
    if name.person { person(said, name) } else { title(said, name) }
}

fn person(said: &[String], name: &PersonName) -> bool {
    if let ([word], Some(surname)) = (said, name.surname()) {
        return misspelt(word, surname) && !surname.starts_with(word.as_str()) && !word.starts_with(surname);
    }
    if said.len() != name.words.len() || said.len() < 2 {
        return false;
    }
    let pairs: Vec<(&String, &String)> = said.iter().zip(&name.words).collect();
    let initial = |said: &str| letters(said) == 1;
    let stands_for =
        |(said, word): &(&String, &String)| said == word || (initial(said) && word.starts_with(said.as_str()));
    let wrong =
        |(said, word): &(&String, &String)| misspelt(said, word) || (initial(said) && !word.starts_with(said.as_str()));
    let right = pairs.iter().filter(|pair| stands_for(pair)).count();
    right > 0 && right < pairs.len() && pairs.iter().all(|pair| stands_for(pair) || wrong(pair))
}

/// Of three words or more one is exchanged, or one between the first and the last is left out.
fn title(said: &[String], name: &PersonName) -> bool {
    let words = &name.words;
    if words.len() < 3 {
        return false;
    }
    if said.len() == words.len() {
        return said.iter().zip(words).filter(|(said, word)| said != word).count() == 1;
    }
    said.len() + 1 == words.len()
        && (1..words.len() - 1).any(|left_out| {
            let rest = words.iter().enumerate().filter(|(at, _)| *at != left_out).map(|(_, word)| word);
            rest.eq(said.iter())
        })
}

fn misspelt(said: &str, word: &str) -> bool {
    match strsim::damerau_levenshtein(said, word) {
        1 => letters(word) >= SHORT_WORD && letters(said) >= SHORT_WORD,
        2 => letters(word) >= LONG_WORD,
        _ => false,
    }
}
