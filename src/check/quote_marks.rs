//! Quote marks: with which marks a language opens a quotation, and where words open one with another.

/// Languages, and the marks that open quotations in them, of the first and the second rank. Common practice, from memory; where
/// houses of one country differ, all of their marks stand here.
const OPENING: [(&[&str], &str); 10] = [
    (&["en", "ga", "tr", "ko", "zh", "hi"], "“‘"),
    (&["de"], "„‚»›«‹"),
    (&["fr"], "«‹“‘"),
    (&["es", "it", "pt", "ca", "el", "eu", "gl"], "«“‘"),
    (&["nl", "af"], "“‘„‚"),
    (&["sv", "fi"], "”’»"),
    (&["da"], "»›„“"),
    (&["nb", "nn", "no"], "«‘“„"),
    (&["pl", "cs", "sk", "hu", "ro", "hr", "sl", "sr", "bg", "lt", "lv", "et", "is"], "„‚»«›"),
    (&["ru", "uk", "be"], "«„“"),
];
const MARKS: &str = "“‘„‚»›«‹”";

/// A mark that opens a quotation and is not one of the language's, with its place; and the marks that are.
pub fn foreign_opening(words: &str, language: &str) -> Option<(usize, char, &'static str)> {
    let language = language.split('-').next().unwrap_or_default().to_lowercase();
    let (_, own) = OPENING.iter().find(|(languages, _)| languages.contains(&language.as_str()))?;
    let mut before = ' ';
    for (at, letter) in words.char_indices() {
        let next = words[at + letter.len_utf8()..].chars().next();
        let opens = (before.is_whitespace() || before == '(') && next.is_some_and(char::is_alphanumeric);
        if opens && MARKS.contains(letter) && !own.contains(letter) {
            return Some((at, letter, own));
        }
        before = letter;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::foreign_opening;

    #[test]
    fn marks_of_other_languages() {
        let mark = |words: &str, language: &str| foreign_opening(words, language).map(|(_, mark, _)| mark);
        for (words, language, wanted) in [
            ("“A marvel”", "en-GB", None),
            ("‘A marvel’", "en", None),
            ("„A marvel“", "en-GB", Some('„')),
            ("“Ein Wunder”", "de", Some('“')),
            ("„Ein Wunder“", "de", None),
            ("»Ein Wunder«", "de-AT", None),
            ("«Ein Wunder»", "de-CH", None),
            ("« Une merveille »", "fr", None),
            ("„Une merveille”", "fr", Some('„')),
            ("”Ett under”", "sv", None),
            ("“Ett under”", "sv", Some('“')),
            // An apostrophe at the head of a word, a mark that closes, a language that is not listed.
            ("rock ’n’ roll", "en", None),
            ("und “Ende”", "de", Some('“')),
            ("„Ende“ und", "de", None),
            ("“x”", "ja", None),
        ] {
            assert_eq!(mark(words, language), wanted, "{words} {language}");
        }
    }
}
