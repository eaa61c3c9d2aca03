//! Titles and names that come close to the book's, yet differ.

use crate::check::rule::RuleFindings;
use crate::check::rules::facts_disagree::alike::{PersonName, letters, near, slip};
use crate::check::visible::VisibleElement;
use crate::check::words::{excerpt, folded};
use crate::cover::Book;
use crate::ground::Severity;

/// What the book is called and by whom.
pub struct Names {
    asked: Vec<PersonName>,
    /// Every spelling that some fact states, as a whole and word by word.
    known: Vec<String>,
}

/// Shorter ones are too easily near to something else; of scripts that write a word in a sign or two, fewer will do.
const LEAST_LETTERS: usize = 6;
const LEAST_SIGNS: usize = 3;
/// In running text a name must be longer, and of several words.
const LEAST_IN_TEXT: usize = 9;
/// A surname by itself in running text.
const LEAST_SURNAME: usize = 6;

impl Names {
    pub fn of(book: &Book) -> Names {
        let asked = book.words.iter().filter_map(|(fact, word)| {
            let person = ["author", "translator", "illustrator"].iter().any(|role| {
                fact.strip_prefix(role).is_some_and(|rest| rest.is_empty() || rest[1..].parse::<u32>().is_ok())
            });
            let title = matches!(fact.as_str(), "title" | "title.short" | "subtitle");
            let name = PersonName::new(fact, &word.value, person);
            let least = if name.is_of_signs() { LEAST_SIGNS } else { LEAST_LETTERS };
            ((person || title) && letters(&name.folded) >= least).then_some(name)
        });
        // The title itself is named before its short form, and the authors together before each.
        let mut asked: Vec<PersonName> = asked.collect();
        asked.sort_by_key(|name| (name.fact.contains('.'), name.fact.clone()));
        let words = book.words.values().map(|word| word.value.clone());
        let spelt = words.chain(book.lines.values().map(|lines| lines.concat()));
        let known = spelt.flat_map(|said| {
            let each: Vec<String> = said.split_whitespace().map(folded).collect();
            each.into_iter().chain([folded(&said)]).collect::<Vec<_>>()
        });
        Names { known: known.collect(), asked }
    }

    pub fn ask(&self, element: &VisibleElement<'_>, findings: &mut RuleFindings) {
        let words = element.words();
        let split: Vec<&str> = words.split_whitespace().collect();
        if let Some(name) = self.misspelt(&split) {
            let message =
                format!("{} says {:?}; the book's {} is {:?}", element.name(), excerpt(&words), name.fact, name.said);
            return findings.element(
                Severity::Error,
                element,
                message,
                format!("refer to the fact: {{{}}}", name.fact),
            );
        }
        let mut reported: Vec<String> = Vec::new();
        for name in &self.asked {
            let several = name.words.len() > 1 && letters(&name.folded) >= LEAST_IN_TEXT;
            let surname = name.surname().filter(|surname| letters(surname) >= LEAST_SURNAME);
            for at in 0..split.len() {
                let window = several.then(|| split.get(at..at + name.words.len())).flatten();
                let whole = window.map(|window| trimmed(&window.join(" ")).to_owned()).filter(|said| {
                    let folded = folded(said);
                    self.is_strange(&folded) && near(&folded, &name.folded) && !inflected(&folded, &name.folded)
                });
                let alone = Some(trimmed(split[at]).to_owned()).filter(|said| {
                    let folded = folded(said);
                    let close = |surname: &str| strsim::damerau_levenshtein(&folded, surname) == 1;
                    self.is_strange(&folded)
                        && surname.is_some_and(close)
                        && !inflected(&folded, surname.unwrap_or_default())
                });
                let Some(said) =
                    whole.or(alone).filter(|said| !reported.iter().any(|reported| reported.contains(said.as_str())))
                else {
                    continue;
                };
                let capital = |text: &str| text.chars().next().is_some_and(char::is_uppercase);
                if capital(&said) || !capital(&name.said) {
                    let message =
                        format!("{} says {said:?}; the book's {} is {:?}", element.name(), name.fact, name.said);
                    let help = format!("refer to the fact: {{{}}}", name.fact);
                    findings.element(Severity::Warning, element, message, help);
                    reported.push(said);
                }
            }
        }
    }

    /// The name that these words, standing alone, are meant to be and are not.
    fn misspelt(&self, words: &[&str]) -> Option<&PersonName> {
        let alone = folded(&words.join(" "));
        if !self.is_strange(&alone) {
            return None;
        }
        // "by Mirela Anand" says the name itself, and a word beside it.
        let whole = |name: &PersonName| {
            words.windows(name.words.len().max(1)).any(|window| folded(&window.join(" ")) == name.folded)
        };
        let said: Vec<String> = words.iter().map(|word| folded(word)).filter(|word| !word.is_empty()).collect();
        self.asked.iter().find(|name| !whole(name) && (near(&alone, &name.folded) || slip(&said, name)))
    }

    fn is_strange(&self, folded: &str) -> bool {
        !self.known.iter().any(|known| known == folded)
    }
}

/// Without the signs around it and the English genitive after it.
fn trimmed(words: &str) -> &str {
    let bare = words.trim_matches(|letter: char| !letter.is_alphanumeric());
    bare.strip_suffix("’s").or_else(|| bare.strip_suffix("'s")).unwrap_or(bare)
}

/// An ending or a particle that a language puts to a name: one is the other with up to two letters at one end.
fn inflected(said: &str, name: &str) -> bool {
    let (long, short) = if said.len() > name.len() { (said, name) } else { (name, said) };
    long != short && (long.starts_with(short) || long.ends_with(short))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::rules::RULES;
    use crate::check::testing::reported;

    const BOOK: &str =
        "book { title \"Salt and Lanterns\"; author \"Mirela Anand\"; pages 320; isbn \"978-1-83742-615-7\"; }\n";

    fn said_of(book: &str, words: &str) -> Vec<Severity> {
        let cover =
            format!("{book}panel back {{ text a words={words:?} {{ left safe; right safe; top safe; size 9 }} }}");
        let rule = RULES.iter().find(|rule| rule.name == "facts-disagree").expect("it is listed");
        reported(rule, &cover).iter().map(|said| said.severity).collect()
    }

    fn said(words: &str) -> Vec<Severity> {
        said_of(BOOK, words)
    }

    #[test]
    fn slips_alone_and_in_running_text() {
        for words in [
            "Salt and Latnerns",
            "Annand",
            "M. Annand",
            "N. Anand",
            "Mirella Annand",
            "Salt and Ladders",
            "Salt Lanterns",
        ] {
            assert_eq!(said(words), [Severity::Error], "{words}");
        }
        assert_eq!(said("This is what Mirella Anand set out to write."), [Severity::Warning]);
        let quill = BOOK.replace("Mirela Anand", "Hester Fenwarden");
        assert_eq!(said_of(&quill, "Nobody writes as Fenvarden does."), [Severity::Warning]);
    }

    /// ß is SS in capitals, or the capital ẞ (Rat für deutsche Rechtschreibung, § 25 E3, from memory); a Greek word ends in
    /// ς and in capitals in Σ, and capitals have no accents.
    #[test]
    fn capitals_of_other_lengths_and_other_last_letters() {
        let german = BOOK.replace("Salt and Lanterns", "Größe der Stille").replace("pages", "language de; pages");
        for said in ["GRÖSSE DER STILLE", "GRÖẞE DER STILLE", "Größe der Stille", "Die Größe der Stille"] {
            assert_eq!(said_of(&german, said), [], "{said}");
        }
        assert_eq!(said_of(&german, "GRÖSE DER STILLE"), [Severity::Error]);
        assert_eq!(said_of(&german, "GRÖSSE DER STILE"), [Severity::Error]);
        let greek = BOOK.replace("Salt and Lanterns", "Ο δρόμος της σιωπής").replace("pages", "language el; pages");
        for said in ["Ο ΔΡΟΜΟΣ ΤΗΣ ΣΙΩΠΗΣ", "Ο ΔΡΌΜΟΣ ΤΗΣ ΣΙΩΠΉΣ", "ο δρομος της σιωπησ"]
        {
            assert_eq!(said_of(&greek, said), [], "{said}");
        }
        assert_eq!(said_of(&greek, "Ο ΔΡΟΜΟΣ ΤΗΣ ΣΙΟΠΗΣ"), [Severity::Error]);
        // Set in capitals by the style, as the cover prints it.
        let rule = RULES.iter().find(|rule| rule.name == "facts-disagree").expect("it is listed");
        for (book, fact) in [(&german, "GRÖSSE DER STILLE"), (&greek, "Ο ΔΡΟΜΟΣ ΤΗΣ ΣΙΩΠΗΣ")] {
            for words in ["{title}", fact] {
                let cover = format!(
                    "{book}panel front {{ text a words={words:?} {{ left safe; right safe; top safe; case upper }} }}"
                );
                assert_eq!(reported(rule, &cover), [], "{words}");
            }
        }
    }

    #[test]
    fn names_of_few_signs() {
        let book = BOOK.replace("Mirela Anand", "霧戸透子").replace("Salt and Lanterns", "月庭の水番");
        assert_eq!(said_of(&book, "霧戸透予"), [Severity::Error]);
        assert_eq!(said_of(&book, "月庭の水蕃"), [Severity::Error]);
        assert_eq!(said_of(&book, "霧戸透子"), []);
        assert_eq!(said_of(&book, "霧"), []);
    }

    #[test]
    fn the_name_itself_however_it_is_set_passes() {
        for words in [
            "SALT AND\nLANTERNS",
            "‘Mirela Anand’s best.’ Nobody wrote of salt and lantern light before.",
            "A novel by Mirela Anand, of Salt and Lanterns fame.",
            "Anand lives in Porto.",
            "by Mirela Anand",
            "Anand",
            "M. Anand",
            "Salt and",
            "Lanterns",
            "Anand’s",
            "Fiction",
        ] {
            assert_eq!(said(words), [], "{words}");
        }
        assert_eq!(said("by Mirela Annand"), [Severity::Warning], "a word beside it makes it running text");
    }
}
