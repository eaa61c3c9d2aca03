//! Where a word may part, by Liang's patterns for its language. The one door to the hyphenator.

use crate::typeset::{
    marks::{composed, is_combining_mark},
    pattern_file::PatternFile,
    style::{Hyphenation, Style},
};
use hyphenation::{Hyphenator as _, Load as _, Standard};
use std::sync::OnceLock;

/// The patterns of a language, opened once.
pub struct Patterns {
    name: &'static str,
    bytes: &'static [u8],
    opened: OnceLock<Option<Standard>>,
}

macro_rules! patterns {
    ($name:literal) => {
        Patterns {
            name: $name,
            bytes: include_bytes!(concat!("dictionaries/", $name, ".bincode")),
            opened: OnceLock::new(),
        }
    };
}

/// Licences: `dictionaries/LICENCES.md`.
static LANGUAGES: [Patterns; 12] = [
    patterns!("da"),
    patterns!("de-1996"),
    patterns!("en-gb"),
    patterns!("en-us"),
    patterns!("es"),
    patterns!("fi"),
    patterns!("fr"),
    patterns!("it"),
    patterns!("nb"),
    patterns!("nl"),
    patterns!("pl"),
    patterns!("pt"),
];

/// What the patterns get wrong (The TeXbook, appendix H; from memory).
const EXCEPTIONS: &str = "as-so-ciate as-so-ciates dec-li-na-tion oblig-a-tory phil-an-thropic present presents \
    project projects reci-procity re-cog-ni-zance ref-or-ma-tion ret-ri-bu-tion ta-ble";

/// The patterns for a BCP 47 language; a language we have none for is not hyphenated.
pub fn patterns(language: &str) -> Option<&'static Patterns> {
    let tag = language.to_ascii_lowercase().replace('_', "-");
    let name = match tag.split('-').next().unwrap_or_default() {
        "en" if tag.split('-').any(|part| ["us", "ca", "ph"].contains(&part)) => "en-us",
        "en" => "en-gb",
        "de" => "de-1996",
        "no" | "nn" => "nb",
        primary => primary,
    };
    LANGUAGES.iter().find(|patterns| patterns.name == name)
}

impl Patterns {
    fn open(&self) -> Option<&Standard> {
        let open = || {
            let mut dictionary = Standard::any_from_reader(&mut &self.bytes[..]).ok()?;
            if self.name == "en-us" {
                for word in EXCEPTIONS.split_whitespace() {
                    let parts: Vec<&str> = word.split('-').collect();
                    let ends = parts.iter().scan(0, |at, part| {
                        *at += part.len();
                        Some(*at)
                    });
                    dictionary.add_exception(parts.concat(), ends.take(parts.len() - 1).collect());
                }
            }
            Some(dictionary)
        };
        self.opened.get_or_init(open).as_ref()
    }
}

/// Where the words of a style part.
pub enum Hyphenator<'a> {
    Bundled(&'static Patterns),
    /// By a file that a house brought, for a language.
    Brought(&'a PatternFile, &'a str),
}

impl<'a> Hyphenator<'a> {
    /// `None` where there are no patterns.
    pub fn of(style: &'a Style) -> Option<Hyphenator<'a>> {
        let brought = style.patterns.as_deref().map(|file| Hyphenator::Brought(file, &style.language));
        brought.or_else(|| patterns(&style.language).map(Hyphenator::Bundled))
    }

    fn opportunities(&self, word: &str) -> Vec<usize> {
        match self {
            Hyphenator::Bundled(patterns) => patterns.open().map_or(Vec::new(), |open| open.opportunities(word)),
            Hyphenator::Brought(file, _) => file.opportunities(word),
        }
    }

    /// The bytes of `word` (letters, their marks and apostrophes, nothing else) at which it may part.
    pub fn parts(&self, word: &str, hyphenation: Hyphenation, found: &mut Vec<usize>) {
        found.clear();
        let language = match self {
            Hyphenator::Bundled(patterns) => patterns.name,
            Hyphenator::Brought(_, language) => language,
        };
        let (folded, letters) = fold(word);
        let before = hyphenation.before.max(1);
        let after = hyphenation.after.max(1);
        if letters.len() < before + after {
            return;
        }
        // Apostrophes stand in few patterns: what lies between them is asked for apart, the limits count the whole.
        let mut start = 0;
        for part in folded.split('\'') {
            for at in self.opportunities(part) {
                let place = letters.binary_search_by_key(&(start + at), |letter| letter.0);
                if let Ok(place) = place
                    && place >= before
                    && letters.len() - place >= after
                    && !respelled(&folded[..start + at], &folded[start + at..], language)
                {
                    found.push(letters[place].1);
                }
            }
            start += part.len() + 1;
        }
    }
}

/// Hungarian letters of two signs, which double by their first sign alone.
const DOUBLED: [&str; 9] = ["cs", "dz", "gy", "ly", "ny", "sz", "ty", "zs", "dzs"];

/// Whether a word that parts here is spelled otherwise. Dutch drops the diaeresis of a part that begins a line (`geïnd` would
/// part as `ge-ind`), Hungarian writes a doubled letter out (`asszony`, `asz-szony`), and Swedish gives back what the joint of
/// `till` lost (`tillåta`, `till-låta`); other Swedish joints are known by no pattern. Words are printed as they were written,
/// so they do not part there.
fn respelled(before: &str, rest: &str, language: &str) -> bool {
    if language.starts_with("hu") {
        return DOUBLED.iter().any(|letter| rest.starts_with(letter) && before.ends_with(&letter[..1]));
    }
    if language.starts_with("sv") {
        let vowel = |letter: char| "aeiouyåäö".contains(letter);
        return before == "til" && rest.strip_prefix('l').is_some_and(|rest| rest.starts_with(vowel));
    }
    language.starts_with("nl") && rest.starts_with(['ä', 'ë', 'ï', 'ö', 'ü'])
}

/// Languages whose words are not hyphenated.
const WHOLE: [&str; 13] = ["ar", "fa", "he", "hi", "ja", "km", "ko", "lo", "my", "th", "ur", "yi", "zh"];

/// Whether a language hyphenates its words, and we have no patterns for it.
pub fn lacks_patterns(language: &str) -> bool {
    let primary = language.split(['-', '_']).next().unwrap_or_default().to_ascii_lowercase();
    !WHOLE.contains(&primary.as_str()) && patterns(language).is_none()
}

/// A word in small letters, composed, and for each of its letters where it stands there and in the word.
fn fold(word: &str) -> (String, Vec<(usize, usize)>) {
    let mut folded = String::with_capacity(word.len());
    let mut letters = Vec::with_capacity(word.len());
    let mut rest = word.char_indices().peekable();
    while let Some((at, letter)) = rest.next() {
        let start = folded.len();
        let mut end = at + letter.len_utf8();
        while let Some((place, mark)) = rest.next_if(|(_, next)| is_combining_mark(*next)) {
            end = place + mark.len_utf8();
        }
        if letter == '’' || letter == '\'' {
            folded.push('\'');
            continue;
        }
        letters.push((start, at));
        if end == at + 1 {
            folded.push(letter.to_ascii_lowercase());
        } else {
            let small: String = word[at..end].chars().flat_map(char::to_lowercase).collect();
            folded.push_str(&composed(&small));
        }
    }
    (folded, letters)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::typeset::evidence::package_file;

    const FREE: Hyphenation = Hyphenation { on: true, before: 2, after: 2, in_row: 2 };

    fn parted(language: &str, word: &str) -> String {
        let style = Style { language: language.to_owned(), ..Style::default() };
        parted_by(&Hyphenator::of(&style).expect("known"), word)
    }

    fn parted_by(hyphenator: &Hyphenator<'_>, word: &str) -> String {
        let mut found = Vec::new();
        hyphenator.parts(word, FREE, &mut found);
        let mut shown = word.to_owned();
        found.iter().rev().for_each(|at| shown.insert(*at, '-'));
        shown
    }

    #[test]
    fn known_words_part_as_published() {
        // The TeXbook, appendix H, and its plain exception list (from memory, confirmed in public test suites).
        for word in [
            "con-cate-na-tion",
            "su-per-cal-ifrag-ilis-tic-ex-pi-ali-do-cious",
            "al-go-rithm",
            "man-u-scripts",
            "project",
            "present",
            "ta-ble",
            "as-so-ciate",
            "ref-or-ma-tion",
        ] {
            assert_eq!(parted("en-US", &word.replace('-', "")), word);
        }
        assert_eq!(parted("de", "Silbentrennung"), "Sil-ben-tren-nung");
        // Woordenlijst Nederlandse Taal, 2015, on the diaeresis at a line's end (from memory).
        assert_eq!(parted("nl", "geïnteresseerde"), "geïn-te-res-seer-de");
    }

    #[test]
    fn capitals_marks_and_apostrophes_keep_their_places() {
        assert_eq!(parted("en-US", "ALGORITHM"), "AL-GO-RITHM");
        let (composed, apart) = (parted("fr", "réveiller"), parted("fr", "re\u{301}veiller"));
        assert_eq!(apart, composed.replace('é', "e\u{301}"));
        assert!(composed.contains('-'));
        assert_eq!(parted("fr", "l’important"), "l’im-por-tant");
    }

    #[test]
    fn limits_hold_and_strangers_stay_whole() {
        let mut found = Vec::new();
        let tight = Hyphenation { before: 4, after: 5, ..FREE };
        Hyphenator::Bundled(patterns("en-US").expect("known")).parts("concatenation", tight, &mut found);
        assert_eq!(found, [7]);
        assert!(patterns("tlh").is_none());
        for language in &LANGUAGES {
            assert!(language.open().is_some(), "{}", language.name);
        }
    }

    /// A magyar helyesírás szabályai, 12th edition, 226 (from memory): doubled letters of two signs are written out where
    /// a word parts between them.
    #[test]
    fn words_that_would_be_respelled_stay_whole_there() {
        let file = PatternFile::read("\\patterns{ a1 e1 o1 i1 s1s n1n 1sz 1ny }").expect("patterns");
        let hungarian = |word: &str| parted_by(&Hyphenator::Brought(&file, "hu"), word);
        assert_eq!((hungarian("asszony"), hungarian("kannasi")), ("asszo-ny".to_owned(), "ka-n-na-si".to_owned()));
        assert_eq!(parted_by(&Hyphenator::Brought(&file, "xx"), "asszony"), "as-szo-ny");
        // Svenska skrivregler, on words put together of `till` (from memory); `kallare` parts as it is spelled.
        let file = PatternFile::read("\\patterns{ l1l å1t a1r ä1m }").expect("patterns");
        let swedish = |word: &str| parted_by(&Hyphenator::Brought(&file, "sv"), word);
        let words = ["tillåta", "tillämpa", "kallare"].map(swedish);
        assert_eq!(words, ["tillå-ta", "tillä-mpa", "kal-la-re"]);
    }

    /// Words put together of the letters of patterns part alike by a pattern file and by the hyphenator that we borrow, whose
    /// tables are made of the same files.
    #[test]
    fn a_pattern_file_parts_words_as_the_hyphenator_does() {
        for bundled in &LANGUAGES {
            let name = bundled.name;
            let patterns = package_file("hyphenation", &format!("patterns/hyph-{name}.pat.txt"));
            let file = PatternFile::read(&format!("\\patterns{{\n{patterns}\n}}")).expect("patterns");
            let standard = Standard::any_from_reader(&mut &bundled.bytes[..]).expect("opens");
            let letters: Vec<String> = patterns
                .split_whitespace()
                .map(|pattern| pattern.chars().filter(|letter| letter.is_alphabetic()).collect::<String>())
                .filter(|letters| !letters.is_empty())
                .collect();
            let mut compared = 0;
            for at in (0..letters.len()).step_by(letters.len().div_ceil(1500)) {
                let word =
                    format!("{}{}{}", letters[at], letters[at * 7 % letters.len()], letters[at * 31 % letters.len()]);
                // Tables may list words by themselves, and make no place nearer the ends than their language has it.
                let inner = |places: Vec<usize>| -> Vec<usize> {
                    let near = |at: &usize| word[..*at].chars().count() > 2 && word[*at..].chars().count() > 2;
                    places.into_iter().filter(near).collect()
                };
                assert_eq!(inner(file.opportunities(&word)), inner(standard.opportunities(&word)), "{name} {word}");
                compared += 1;
            }
            assert!(compared > 50, "{name} {compared}");
        }
    }
}
