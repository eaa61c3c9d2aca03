//! Titles and names that come close to the book's, yet differ.

use crate::check::rule::RuleFindings;
use crate::check::visible::VisibleElement;
use crate::check::words::{excerpt, folded};
use crate::cover::Book;
use crate::ground::Severity;

/// What the book is called and by whom.
pub struct Names {
    asked: Vec<Name>,
    /// Every spelling that some fact states.
    known: Vec<String>,
}

struct Name {
    fact: &'static str,
    said: String,
    folded: String,
    words: usize,
}

/// Shorter ones are too easily near to something else.
const LEAST_LETTERS: usize = 6;
/// In running text a name must be longer, and of several words.
const LEAST_IN_TEXT: usize = 9;
/// How alike two spellings are of which one is meant to be the other.
const ALIKE: f64 = 0.85;

impl Names {
    pub fn of(book: &Book) -> Names {
        let name = |fact: &'static str| {
            let said = book.word(fact)?.to_owned();
            let folded = folded(&said);
            let words = said.split_whitespace().count();
            (folded.chars().count() >= LEAST_LETTERS).then_some(Name { fact, said, folded, words })
        };
        let known = book
            .words
            .values()
            .map(|word| folded(&word.value))
            .chain(book.lines.values().map(|lines| folded(&lines.concat())));
        let asked = ["title", "title.short", "subtitle", "author", "author.1", "author.2", "translator", "illustrator"];
        Names { asked: asked.into_iter().filter_map(name).collect(), known: known.collect() }
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
        let mut told: Vec<String> = Vec::new();
        for name in self.asked.iter().filter(|name| name.words > 1 && name.folded.chars().count() >= LEAST_IN_TEXT) {
            for window in split.windows(name.words) {
                let said = trimmed(&window.join(" ")).to_owned();
                let starts_alike = said.chars().next().is_some_and(char::is_uppercase)
                    || !name.said.chars().next().is_some_and(char::is_uppercase);
                let folded = folded(&said);
                if starts_alike
                    && !told.contains(&said)
                    && self.near(&folded, name)
                    && !inflected(&folded, &name.folded)
                {
                    let message =
                        format!("{} says {said:?}; the book's {} is {:?}", element.name(), name.fact, name.said);
                    findings.element(
                        Severity::Warning,
                        element,
                        message,
                        format!("refer to the fact: {{{}}}", name.fact),
                    );
                    told.push(said);
                }
            }
        }
    }

    /// The name that these words, standing alone, are meant to be and are not.
    fn misspelt(&self, words: &[&str]) -> Option<&Name> {
        let alone = folded(&words.join(" "));
        // "by Mirela Anand" says the name itself, and a word beside it.
        let whole =
            |name: &Name| words.windows(name.words.max(1)).any(|window| folded(&window.join(" ")) == name.folded);
        self.asked.iter().find(|name| self.near(&alone, name) && !whole(name))
    }

    fn near(&self, words: &str, name: &Name) -> bool {
        let letters = |text: &str| text.chars().count();
        letters(words).abs_diff(letters(&name.folded)) <= 2
            && !self.known.iter().any(|known| known == words)
            && strsim::normalized_damerau_levenshtein(words, &name.folded) > ALIKE
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
    use crate::check::testing::told;

    fn said(words: &str) -> Vec<Severity> {
        let cover = format!("panel back {{ text a words={words:?} {{ left safe; right safe; top safe; size 9 }} }}");
        let rule = RULES.iter().find(|rule| rule.name == "facts-disagree").expect("it is listed");
        told(rule, &cover).iter().map(|said| said.severity).collect()
    }

    #[test]
    fn slips_alone_and_in_running_text() {
        assert_eq!(said("Salt and Latnerns"), [Severity::Error]);
        assert_eq!(said("Sallt & Lanterns"), [], "two slips at once are another title");
        assert_eq!(said("This is what Mirella Anand set out to write."), [Severity::Warning]);
    }

    #[test]
    fn the_name_itself_however_it_is_set_passes() {
        assert_eq!(said("SALT AND\nLANTERNS"), []);
        assert_eq!(said("‘Mirela Anand’s best.’ Nobody wrote of salt and lantern light before."), []);
        assert_eq!(said("A novel by Mirela Anand, of Salt and Lanterns fame."), []);
        assert_eq!(said("Anand lives in Porto."), []);
        assert_eq!(said("by Mirela Anand"), []);
        assert_eq!(said("by Mirela Annand"), [Severity::Warning], "a word beside it makes it running text");
    }
}
