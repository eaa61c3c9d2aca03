//! Quotes: straight quotation marks and apostrophes as a language prints them.

/// Languages, and their opening and closing marks, outer and inner: CLDR 41, `delimiters`. Others have those of English. The
/// inner marks of French, where CLDR repeats the outer ones, and all of Swiss German are common practice.
const MARKS: [(&str, [char; 4]); 9] = [
    ("de-ch de-li fr-ch it-ch", ['«', '»', '‹', '›']),
    ("de cs sk hr sl et is lt", ['„', '“', '‚', '‘']),
    ("fr es it pt-pt el ca gl", ['«', '»', '“', '”']),
    ("ru uk be", ['«', '»', '„', '“']),
    ("nb no nn", ['«', '»', '‘', '’']),
    ("sv fi", ['”', '”', '’', '’']),
    ("pl ro", ['„', '”', '«', '»']),
    ("hu", ['„', '”', '»', '«']),
    ("ja", ['「', '」', '『', '』']),
];
const ENGLISH: [char; 4] = ['“', '”', '‘', '’'];
const APOSTROPHE: char = '’';

/// English words that begin with an apostrophe.
const CLIPPED: [&str; 8] = ["tis", "twas", "twere", "em", "til", "n", "cause", "bout"];

/// Which marks are open, on the way through a paragraph.
pub struct Quotes {
    marks: [char; 4],
    outer: bool,
    inner: bool,
}

impl Quotes {
    pub fn of(language: &str) -> Quotes {
        let tag = language.to_ascii_lowercase().replace('_', "-");
        let mut parts = tag.split('-');
        let primary = parts.next().unwrap_or_default();
        let region = parts.map(|part| format!("{primary}-{part}"));
        let names: Vec<String> = region.chain([primary.to_owned()]).collect();
        let of = |name: &String| MARKS.iter().find(|(tags, _)| tags.split(' ').any(|tag| tag == name)).map(|own| own.1);
        Quotes { marks: names.iter().find_map(of).unwrap_or(ENGLISH), outer: false, inner: false }
    }

    /// What is printed for a straight mark; nothing where it is none, or stands for feet and inches.
    pub fn sign(&mut self, letters: &[char], at: usize) -> Option<char> {
        let before = at.checked_sub(1).map(|at| letters[at]);
        let after = letters.get(at + 1).copied();
        let opens = before.is_none_or(|letter| {
            letter.is_whitespace() || matches!(letter, '(' | '[' | '–' | '—' | '-' | '"' | '\'' | '“' | '‘' | '„' | '«')
        }) && after.is_some_and(|letter| !letter.is_whitespace());
        let measured = before.is_some_and(|letter| letter.is_ascii_digit());
        match letters[at] {
            '"' if opens && !self.outer => {
                self.outer = true;
                Some(self.marks[0])
            }
            '"' if self.outer => {
                self.outer = false;
                Some(self.marks[1])
            }
            '\'' if self.inner && !opens && after.is_none_or(|letter| !letter.is_alphanumeric()) => {
                self.inner = false;
                Some(self.marks[3])
            }
            '\'' if opens && !clipped(letters, at) && closes_later(letters, at) => {
                self.inner = true;
                Some(self.marks[2])
            }
            '\'' if measured && after.is_none_or(|letter| !letter.is_alphabetic()) => None,
            '\'' if before.is_some_and(char::is_alphanumeric) || after.is_some_and(char::is_alphanumeric) => {
                Some(APOSTROPHE)
            }
            _ => None,
        }
    }
}

/// `'90s`, `'tis`, `'n'`.
fn clipped(letters: &[char], at: usize) -> bool {
    let word: String = letters[at + 1..].iter().take_while(|letter| letter.is_alphabetic()).take(8).collect();
    letters.get(at + 1).is_some_and(char::is_ascii_digit) || CLIPPED.contains(&word.to_lowercase().as_str())
}

/// Letters of a quotation within another that are looked at.
const REACH: usize = 2000;

/// Whether a single mark follows that ends a word.
fn closes_later(letters: &[char], at: usize) -> bool {
    let rest = &letters[at + 1..letters.len().min(at + REACH)];
    let mut pairs = rest.iter().zip(rest.iter().skip(1).map(Some).chain([None]));
    let mut before = ' ';
    pairs.any(|(letter, next)| {
        let last = std::mem::replace(&mut before, *letter);
        *letter == '\'' && !last.is_whitespace() && next.is_none_or(|next| !next.is_alphanumeric())
    })
}
