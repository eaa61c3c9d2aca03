//! Signs of a keyboard as a language prints them, where a style asks for that: quotation marks and apostrophes, dashes and
//! ellipses, blanks that do not break. What an author typed as a printer's sign stays as it is, and so does every letter.

use crate::typeset::copy::{Copy, Paragraph};
use dashes::dash;
use quotes::Quotes;
use spaces::space_between;

mod dashes;
mod quotes;
mod spaces;

/// Which of them are set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Signs {
    pub quotes: bool,
    pub dashes: bool,
    pub spaces: bool,
}

/// How many of each were set otherwise than they were typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SignsSet {
    pub quotes: usize,
    pub dashes: usize,
    pub spaces: usize,
}

/// A letter of a paragraph, and the phrase it stands in.
type TypedLetter = (char, usize);

/// Sets the signs of a copy as its language, a BCP 47 tag, has them.
pub fn set_signs(copy: &mut Copy, signs: Signs, language: &str) -> SignsSet {
    let language = &language.to_ascii_lowercase().replace('_', "-");
    let mut count = SignsSet::default();
    for paragraph in &mut copy.paragraphs {
        let mut typed: Vec<TypedLetter> = Vec::new();
        for (number, phrase) in paragraph.phrases.iter().enumerate() {
            typed.extend(phrase.text.chars().map(|letter| (letter, number)));
        }
        if signs.dashes {
            typed = dashes(&typed, language, &mut count.dashes);
        }
        if signs.quotes {
            quotes(&mut typed, language, &mut count.quotes);
        }
        if signs.spaces {
            typed = spaces(&typed, language, &mut count.spaces);
        }
        put_back(paragraph, &typed);
    }
    count
}

fn put_back(paragraph: &mut Paragraph, typed: &[TypedLetter]) {
    paragraph.phrases.iter_mut().for_each(|phrase| phrase.text.clear());
    for (letter, number) in typed {
        paragraph.phrases[*number].text.push(*letter);
    }
}

fn dashes(typed: &[TypedLetter], language: &str, count: &mut usize) -> Vec<TypedLetter> {
    let letters: Vec<char> = typed.iter().map(|typed| typed.0).collect();
    let mut set = Vec::with_capacity(typed.len());
    let mut at = 0;
    while at < typed.len() {
        if let Some((length, sign)) = dash(&letters, at, language) {
            set.push((sign, typed[at].1));
            *count += 1;
            at += length;
        } else {
            set.push(typed[at]);
            at += 1;
        }
    }
    set
}

fn quotes(typed: &mut [TypedLetter], language: &str, count: &mut usize) {
    let letters: Vec<char> = typed.iter().map(|typed| typed.0).collect();
    let mut quotes = Quotes::of(language);
    for (at, slot) in typed.iter_mut().enumerate() {
        if let Some(sign) = quotes.sign(&letters, at) {
            slot.0 = sign;
            *count += 1;
        }
    }
}

fn spaces(typed: &[TypedLetter], language: &str, count: &mut usize) -> Vec<TypedLetter> {
    let letters: Vec<char> = typed.iter().map(|typed| typed.0).collect();
    let mut set: Vec<TypedLetter> = Vec::with_capacity(typed.len() + 8);
    for (at, one) in typed.iter().enumerate() {
        match space_between(&letters, at, language) {
            Some(space) if one.0 == ' ' => {
                set.push((space, one.1));
                *count += 1;
            }
            Some(space) => {
                set.extend([(space, one.1), *one]);
                *count += 1;
            }
            None => set.push(*one),
        }
    }
    set
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::typeset::copy::Phrase;

    fn shown(text: &str, language: &str) -> String {
        let mut copy = Copy::plain(text);
        set_signs(&mut copy, Signs { quotes: true, dashes: true, spaces: true }, language);
        copy.text()
    }

    /// Quotation marks: CLDR 41, `delimiters` (Swiss German: common practice). Blanks of French: Lexique des règles typographiques
    /// en usage à l’Imprimerie nationale, from memory.
    #[test]
    fn signs_are_those_of_the_language() {
        for (language, typed, set) in [
            (
                "en-GB",
                r#""Don't," she said, "it's 'late' - isn't it?""#,
                "“Don’t,” she said, “it’s ‘late’ – isn’t it?”",
            ),
            ("en-US", r#"He waited--for whom?--and said "no"..."#, "He waited—for whom?—and said “no”…"),
            (
                "en-GB",
                "'Tis the '90s; rock 'n' roll of the Smiths' house",
                "’Tis the ’90s; rock ’n’ roll of the Smiths’ house",
            ),
            (
                "de",
                r#"Sie sagte: "Das ist 'gut' - z. B. 1914-18.""#,
                "Sie sagte: „Das ist ‚gut‘ – z.\u{202F}B. 1914–18.“",
            ),
            ("de-CH", r#"Sie sagte: "Nein.""#, "Sie sagte: «Nein.»"),
            ("fr", r#"Elle dit : "Demain !" Qui ?"#, "Elle dit\u{A0}: «\u{A0}Demain\u{202F}!\u{A0}» Qui\u{202F}?"),
            (
                "fr",
                "Qui? Demain; ou 12:30, https://a.example/?b",
                "Qui\u{202F}? Demain\u{202F}; ou 12:30, https://a.example/?b",
            ),
            ("fr-CH", r#""Oui""#, "«Oui»"),
            ("es", r#"Dijo "sí" -- y luego 'no'"#, "Dijo «sí» — y luego “no”"),
            ("sv", r#""Ja", sa hon"#, "”Ja”, sa hon"),
            ("pl", r#""Tak""#, "„Tak”"),
            ("ru", r#""Да""#, "«Да»"),
            ("pt-PT", r#""Sim""#, "«Sim»"),
            ("pt-BR", r#""Sim""#, "“Sim”"),
            ("nl", r#""Ja""#, "“Ja”"),
        ] {
            assert_eq!(shown(typed, language), set, "{language}");
        }
    }

    /// Right designs that only look wrong stay as they are.
    #[test]
    fn what_is_no_such_sign_stays() {
        for (language, text) in [
            ("en-GB", "ISBN 978-1-86197-876-9, tel. 020-7946-0018, T-shirt, 747-400"),
            ("en-GB", "a 6\" gun and 5'10\""),
            ("en-GB", "“Already” set – by ‘hand’ … and ’tis so"),
            ("de", "„Schon“ so"),
            ("fr", "«\u{A0}Oui\u{A0}», dit-elle\u{202F}!"),
            ("en-GB", "https://a.example/--b/...c and a--"),
        ] {
            let fixed = if text.ends_with("a--") { text.replace("a--", "a–") } else { text.to_owned() };
            assert_eq!(shown(text, language), fixed, "{language}");
        }
    }

    #[test]
    fn emphasis_keeps_its_letters_and_signs_are_counted() {
        let phrase = |text: &str, emphasis: bool| Phrase { text: text.to_owned(), emphasis, ..Phrase::default() };
        let phrases = vec![phrase("\"Salt ", false), phrase("and\"", true), phrase(" -- Lanterns", false)];
        let mut copy = Copy { paragraphs: vec![Paragraph { phrases }] };
        let signs = Signs { quotes: true, dashes: true, spaces: false };
        let set = set_signs(&mut copy, signs, "de");
        let texts: Vec<&str> = copy.paragraphs[0].phrases.iter().map(|phrase| phrase.text.as_str()).collect();
        assert_eq!(texts, ["„Salt ", "and“", " – Lanterns"]);
        assert_eq!(set, SignsSet { quotes: 2, dashes: 1, spaces: 0 });
        // Once more changes nothing.
        assert_eq!(set_signs(&mut copy, signs, "de"), SignsSet::default());
    }
}
