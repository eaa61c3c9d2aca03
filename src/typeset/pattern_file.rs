//! Pattern file: hyphenation patterns that a house brings, in the open format of TeX's `\patterns{…}` and `\hyphenation{…}`.
//!
//! A pattern is letters with figures between them; an odd figure is a place where words part, an even one where they do
//! not, and the highest wins (Liang, 1983). A point stands for the beginning or the end of a word.

use crate::ground::Digest;
use crate::typeset::marks::is_combining_mark;
use std::collections::BTreeMap;
use std::fmt;
use std::ops::Range;

/// The largest set in use has some 60,000.
const MOST_PATTERNS: usize = 100_000;
/// Letters and figures of a pattern or an exception.
const LONGEST: usize = 64;
/// Bytes of a file.
const LARGEST: usize = 4 << 20;
/// No word has as many letters; what has does not part.
const LONGEST_WORD: usize = 200;

pub struct PatternFile {
    /// Letters, and the figures before, between and after them.
    patterns: BTreeMap<String, Vec<u8>>,
    /// Words, and the letters after which they part.
    exceptions: BTreeMap<String, Vec<usize>>,
    longest: usize,
    digest: Digest,
}

/// What is wrong with a file, and the bytes where.
pub type PatternFault = (String, Range<usize>);

impl PatternFile {
    pub fn read(text: &str) -> Result<PatternFile, PatternFault> {
        let digest = Digest::of(text.as_bytes());
        let mut file = PatternFile { patterns: BTreeMap::new(), exceptions: BTreeMap::new(), longest: 0, digest };
        if text.len() > LARGEST {
            return Err((format!("patterns of more than {} MB", LARGEST >> 20), 0..0));
        }
        let mut list = None;
        for (at, word) in words(text) {
            match (word, list) {
                ("\\patterns", None) => list = Some(false),
                ("\\hyphenation", None) => list = Some(true),
                ("{", _) => {}
                ("}", _) => list = None,
                (word, Some(exceptions)) => {
                    if word.chars().count() > LONGEST {
                        return Err((
                            format!("a pattern of more than {LONGEST} letters and figures"),
                            at..at + word.len(),
                        ));
                    }
                    let read = if exceptions { file.exception(word) } else { file.pattern(word) };
                    read.ok_or_else(|| (format!("`{word}` is no pattern"), at..at + word.len()))?;
                }
                // Commands around the lists.
                (_, None) => {}
            }
            if file.patterns.len() + file.exceptions.len() > MOST_PATTERNS {
                return Err((format!("more than {MOST_PATTERNS} patterns"), at..at + word.len()));
            }
        }
        if file.patterns.is_empty() {
            return Err(("no patterns stand in it: they are listed in `\\patterns{…}`".to_owned(), 0..0));
        }
        Ok(file)
    }

    fn pattern(&mut self, word: &str) -> Option<()> {
        let (mut letters, mut figures) = (String::new(), vec![0]);
        for letter in word.chars() {
            if let Some(figure) = letter.to_digit(10) {
                *figures.last_mut()? = figure as u8;
            } else if letter.is_alphabetic() || matches!(letter, '.' | '\'' | '’' | '-') || is_combining_mark(letter)
            {
                letters.push(letter);
                figures.push(0);
            } else {
                return None;
            }
        }
        self.longest = self.longest.max(figures.len() - 1);
        self.patterns.insert(letters, figures);
        Some(())
    }

    fn exception(&mut self, word: &str) -> Option<()> {
        let (mut letters, mut places) = (String::new(), Vec::new());
        for letter in word.chars() {
            if letter == '-' {
                places.push(letters.len());
            } else if letter.is_alphabetic() || is_combining_mark(letter) || matches!(letter, '\'' | '’') {
                letters.push(letter);
            } else {
                return None;
            }
        }
        self.exceptions.insert(letters, places);
        Some(())
    }

    /// The bytes of a word in small letters at which it may part.
    pub fn opportunities(&self, word: &str) -> Vec<usize> {
        if let Some(known) = self.exceptions.get(word) {
            return known.clone();
        }
        if word.len() > LONGEST_WORD {
            return Vec::new();
        }
        let dotted = format!(".{word}.");
        let starts: Vec<usize> = dotted.char_indices().map(|(at, _)| at).chain([dotted.len()]).collect();
        let mut figures = vec![0_u8; starts.len()];
        for from in 0..starts.len() - 1 {
            for to in from + 1..=(from + self.longest).min(starts.len() - 1) {
                let Some(own) = self.patterns.get(&dotted[starts[from]..starts[to]]) else { continue };
                for (slot, figure) in figures[from..].iter_mut().zip(own) {
                    *slot = (*slot).max(*figure);
                }
            }
        }
        // The point before the word is one byte.
        let inner = 2..starts.len().saturating_sub(2);
        inner.filter(|at| figures[*at] % 2 == 1).map(|at| starts[at] - 1).collect()
    }
}

/// Words of a TeX file and where they stand; braces are words, and comments are none.
fn words(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let lines = text.split_inclusive('\n').scan(0, |at, line| {
        *at += line.len();
        Some((*at - line.len(), line.split('%').next().unwrap_or_default()))
    });
    lines.flat_map(|(start, line)| {
        let mut at = 0;
        std::iter::from_fn(move || {
            let rest = &line[at..];
            let from = at + rest.find(|letter: char| !letter.is_whitespace())?;
            let first = line[from..].chars().next()?;
            let ends = |letter: char| letter.is_whitespace() || matches!(letter, '{' | '}' | '\\');
            let length = if matches!(first, '{' | '}') {
                1
            } else {
                let inner = first.len_utf8();
                line[from + inner..].find(ends).map_or(line.len() - from, |end| inner + end)
            };
            at = from + length;
            Some((start + from, &line[from..at]))
        })
    })
}

/// Two are the same that come from the same bytes.
impl PartialEq for PatternFile {
    fn eq(&self, other: &PatternFile) -> bool {
        self.digest == other.digest
    }
}

impl fmt::Debug for PatternFile {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "PatternFile({:?})", self.digest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The TeXbook, appendix H (from memory): how `hyphenation` parts, by eight patterns.
    #[test]
    fn liangs_example_parts_as_published() {
        let text = "% a comment { with braces\n\\patterns{hy3ph he2n hena4 hen5at 1na n2at\n1tio 2io o2n} % and so on\n\\hyphenation{ta-ble pro-ject}\n\\endinput";
        let file = PatternFile::read(text).expect("patterns");
        assert_eq!(file.opportunities("hyphenation"), [2, 6]);
        assert_eq!(file.opportunities("table"), [2]);
        assert!(file.opportunities("").is_empty() && file.opportunities("a").is_empty());
    }

    #[test]
    fn what_is_no_pattern_is_told_at_its_place() {
        let fault = |text: &str| PatternFile::read(text).map(|_| ()).expect_err("no patterns");
        assert_eq!(fault("hello").0, "no patterns stand in it: they are listed in `\\patterns{…}`");
        let text = "\\patterns{a1b c$d}";
        assert_eq!(&text[fault(text).1], "c$d");
        let long = format!("\\patterns{{{}}}", "a1".repeat(200));
        assert!(fault(&long).0.starts_with("a pattern of more than"));
        let mut many = String::new();
        for number in 0..200_000_u32 {
            let letter = |place: u32| char::from_u32(97 + number / 26_u32.pow(place) % 26).expect("a letter");
            many.extend([letter(0), letter(1), letter(2), letter(3), '1', ' ']);
        }
        assert!(fault(&format!("\\patterns{{{many}}}")).0.starts_with("more than 100000"));
    }
}
