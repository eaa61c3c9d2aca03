//! Small words of a language: those that belong to the word after them, so that a line had better not end with them.
//!
//! Articles and prepositions are those of school grammars; that they stay with their word in a title, and abbreviated
//! titles with their name everywhere, is common practice.

/// Of a language: articles and prepositions; abbreviations before a name, and before a number.
struct SmallWords {
    language: &'static str,
    clinging: &'static str,
    titles: &'static str,
    numbering: &'static str,
}

const SMALL_WORDS: [SmallWords; 12] = [
    SmallWords {
        language: "en",
        clinging: "a an the of in on at by to for from with and or as into my your his her its our their no",
        titles: "Mr Mrs Ms Dr St Mr. Mrs. Ms. Dr. St. Prof. Rev. Capt. Sgt.",
        numbering: "No. no. Vol. vol. p. pp. ch.",
    },
    SmallWords {
        language: "de",
        clinging: "der die das den dem des ein eine einen einem einer eines am an auf aus bei bis durch für gegen im in ins \
            mit nach ohne über um unter und von vom vor zu zum zur",
        titles: "Dr. Prof. Hr. Fr. St.",
        numbering: "Nr. Bd. S.",
    },
    SmallWords {
        language: "fr",
        clinging: "le la les un une des du de au aux à en et ou dans par pour sans sous sur chez mon ma mes son sa ses",
        titles: "M. MM. Mme Mlle Mgr Dr Pr",
        numbering: "p. vol. n° no",
    },
    SmallWords {
        language: "es",
        clinging: "el la los las un una unos unas de del al a en y e o u con por para sin sobre su sus mi mis",
        titles: "Sr. Sra. Srta. D. Dña. Dr. Dra. Prof. S. Sta.",
        numbering: "pág. núm. vol. p.",
    },
    SmallWords {
        language: "it",
        clinging: "il lo la i gli le un uno una di del dello della dei degli delle a al alla ai in nel nella con su sul \
            sulla per tra fra e o da dal dalla",
        titles: "Sig. Sig.ra Dott. Prof. S.",
        numbering: "p. vol. n.",
    },
    SmallWords {
        language: "nl",
        clinging: "de het een van in op aan bij te tot voor met en of uit naar om over zonder mijn zijn haar",
        titles: "dr. prof. dhr. mevr. mw. St.",
        numbering: "nr. p. blz.",
    },
    SmallWords {
        language: "pt",
        clinging: "o a os as um uma uns umas de do da dos das em no na nos nas ao à e ou com por para sem sob",
        titles: "Sr. Sra. D. Dr. Dra. Prof. S.",
        numbering: "p. n.º vol.",
    },
    SmallWords {
        language: "da",
        clinging: "en et den det de af i på til fra med og eller for om ved uden min din hans hendes",
        titles: "hr. fru dr. prof.",
        numbering: "nr. s.",
    },
    SmallWords {
        language: "sv",
        clinging: "en ett den det de av i på till från med och eller för om vid utan min din hans hennes",
        titles: "hr fru dr prof.",
        numbering: "nr s.",
    },
    SmallWords {
        language: "nb",
        clinging: "en ei et den det de av i på til fra med og eller for om ved uten min din hans hennes",
        titles: "hr. fru dr. prof.",
        numbering: "nr. s.",
    },
    SmallWords {
        language: "pl",
        clinging: "do na od po za ze we bez dla nad pod przez przy oraz",
        titles: "dr prof. św.",
        numbering: "nr s. t. p.",
    },
    SmallWords {
        language: "cs",
        clinging: "do na od po za ze ve bez pro nad pod při přes",
        titles: "dr. prof. sv.",
        numbering: "č. s. p.",
    },
];

/// Languages that leave no preposition or conjunction of one letter at a line's end. Common practice.
const NO_LONE_ENDS: [&str; 6] = ["be", "cs", "pl", "ru", "sk", "uk"];

/// A word of one letter that its language does not leave at a line's end.
pub fn ends_lone(word: &str, language: &str) -> bool {
    let mut letters = word.chars();
    NO_LONE_ENDS.contains(&language) && letters.next().is_some_and(char::is_alphabetic) && letters.next().is_none()
}

/// An abbreviation before its name or its number: `Dr. Who`, `No. 7`.
pub fn announces(word: &str, follower: &str, language: &str) -> bool {
    let listed = |words: &str| words.split_whitespace().any(|known| known == word);
    of(language).is_some_and(|words| {
        listed(words.titles) && follower.starts_with(char::is_uppercase)
            || listed(words.numbering) && follower.starts_with(char::is_numeric)
    })
}

/// In a title: articles, prepositions and initials belong to the word after them, numbers to their neighbours.
pub fn belongs(word: &str, follower: &str, language: &str) -> bool {
    let number = |word: &str| word.starts_with(|letter: char| letter.is_numeric()) || is_roman(word);
    let mut letters = word.chars();
    let initial = letters.next().is_some_and(char::is_uppercase) && letters.as_str() == ".";
    let small = word.to_lowercase();
    let clings = of(language).is_some_and(|words| words.clinging.split_whitespace().any(|known| known == small));
    clings || initial || number(word) || number(follower)
}

/// A Roman number of two figures or more; `I` is a word of its own, too.
fn is_roman(word: &str) -> bool {
    word.len() > 1 && word.chars().all(|letter| matches!(letter, 'I' | 'V' | 'X'))
}

fn of(language: &str) -> Option<&'static SmallWords> {
    let language = if matches!(language, "no" | "nn") { "nb" } else { language };
    SMALL_WORDS.iter().find(|words| words.language == language)
}
