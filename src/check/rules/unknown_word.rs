//! A word that your house's list does not know.
//!
//! Slips in the blurb are found by the first reader in the shop. A list of words finds many of them before; it cannot find the
//! right word in the wrong place.
//!
//! Asked where a `word-list` of the book's language is stated. No dictionary is bundled.
//!
//! - words of a text that are in none of its lists, five of them named: note. Words of fewer than 3 letters pass, as do words
//!   with figures, addresses, and the names that the book states: its title, its people, its publisher, its series and whoever
//!   is quoted. A word of parts, such as *light-house* and *l’homme*, passes where its parts do.
//!
//! ```kdl
//! word-list en-GB words="a novel of the sea"
//! panel back { text blurb words="A novle of the sea." { left safe; right safe; top 30 } }
//! ```
//!
//! Way out: correct it; or add the word to the list, or to `word-list en-GB words="…"` in the cover.

use crate::check::exam::Exam;
use crate::check::limit::{OURS, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::spellings::words;
use crate::cover::{Book, WordList};
use crate::ground::Severity;
use crate::scene::{Kind, Media};
use std::collections::BTreeSet;

pub const RULE: CheckRule = CheckRule {
    name: "unknown-word",
    severity: Severity::Note,
    media: Media::Both,
    limits: &[LETTERS],
    source: include_str!("unknown_word.rs"),
    run,
};

const LETTERS: RuleLimit = bare("letters", "words with fewer letters are not asked for", "3", OURS).most();
const NAMED: usize = 5;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let facts = exam.facts();
    let language = &facts.book.language.value;
    let lists: Vec<&WordList> =
        facts.word_lists.iter().filter(|list| !list.text.is_empty() && list.is_of(language)).collect();
    if lists.is_empty() {
        return;
    }
    let least = findings.limit(&LETTERS);
    let is_asked = |word: &str| word.chars().count() as f64 >= least;
    let said: Vec<_> =
        exam.of(Kind::Text).map(|element| (element, words(&element.words()).collect::<Vec<_>>())).collect();
    let mut unknown: BTreeSet<String> = BTreeSet::new();
    for word in said.iter().flat_map(|(_, words)| words).map(|word| WordList::plain(word)) {
        unknown.extend(word.split('\'').filter(|part| is_asked(part)).map(str::to_owned));
        unknown.insert(word);
    }
    for list in &lists {
        list.take_known(&mut unknown);
    }
    let names = names(&facts.book);
    for (element, words) in said {
        let mut strange: Vec<&String> = Vec::new();
        for word in &words {
            let plain = WordList::plain(word);
            let whole = !is_asked(&plain) || !unknown.contains(&plain) || names.contains(&plain);
            let known = |part: &str| !is_asked(part) || !unknown.contains(part) || names.contains(part);
            let parts = plain.contains('\'') && plain.split('\'').all(known);
            if !whole && !parts && !strange.contains(&word) {
                strange.push(word);
            }
        }
        if strange.is_empty() {
            continue;
        }
        let named: Vec<String> = strange.iter().take(NAMED).map(|word| format!("{word:?}")).collect();
        let more = if strange.len() > NAMED { format!(" and {} more", strange.len() - NAMED) } else { String::new() };
        let message =
            format!("{} says {}{more}, which no word list of {language} knows", element.name(), named.join(", "));
        let help = format!("correct it, or add it to a list: `word-list {language} words={:?}`", strange[0]);
        findings.element(Severity::Note, element, message, help);
    }
}

/// Every word of the names that the book states.
fn names(book: &Book) -> BTreeSet<String> {
    const NAMES: [&str; 7] = ["title", "subtitle", "author", "translator", "illustrator", "publisher", "in-series"];
    let is_name = |fact: &str| {
        let root = fact.split('.').next().unwrap_or_default();
        NAMES.contains(&root) || root == "quote" && matches!(fact.rsplit('.').next(), Some("by" | "source"))
    };
    let stated = book.words.iter().filter(|(fact, _)| is_name(fact));
    let all =
        stated.flat_map(|(_, stated)| words(&stated.value).map(|word| WordList::plain(&word)).collect::<Vec<_>>());
    all.flat_map(|word| word.split('\'').map(str::to_owned).chain([word.clone()]).collect::<Vec<_>>()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn said(lists: &str, words: &str) -> Vec<String> {
        let text = format!("panel back {{ text blurb words={words:?} {{ left safe; right safe; top 30 }} }}");
        reported(&RULE, &format!("{lists}\n{text}")).into_iter().map(|finding| finding.message).collect()
    }

    #[test]
    fn words_that_no_list_knows() {
        assert_eq!(example(&RULE)[0].message, "`blurb` says \"novle\", which no word list of en-GB knows");
        let list = "word-list en words=\"a novel of the sea light house isn't homme\"";
        assert_eq!(said("", "A novle of the sea."), Vec::<String>::new(), "nothing is stated");
        assert_eq!(said("word-list de words=\"See\"", "A novle"), Vec::<String>::new(), "a list of another language");
        let passing =
            "A NOVEL of the Sea: it ISN’T by Mirela Anand. Light-house, l’homme, Anand’s 1994 www.osselby.example";
        assert_eq!(said(list, passing), Vec::<String>::new());
        let many = said(list, "Uno duo tres quattor cinq sex seven");
        let wanted = "`blurb` says \"Uno\", \"duo\", \"tres\", \"quattor\", \"cinq\" and 2 more, which no word list of en-GB knows";
        assert_eq!(many, [wanted]);
        let both = format!("{list}\nlimit unknown-word letters=4");
        assert_eq!(said(&both, "Uno duo"), Vec::<String>::new());
    }
}
