//! Habits: what the parser, which stands below the language, says of its words agrees with what the words declare.

use crate::language::vocabulary;
use crate::source::{IN_PERCENT, NOT_IN_PERCENT, TEXTS, Takes, Word, habits};
use std::collections::BTreeSet;

/// Every word, and every property of one.
fn words() -> Vec<&'static Word> {
    let last = vocabulary().into_iter().map(|path| path[path.len() - 1]);
    last.flat_map(|word| std::iter::once(word).chain(word.properties)).collect()
}

fn names(of: impl Fn(&Word) -> bool) -> BTreeSet<&'static str> {
    words().into_iter().filter(|word| of(word)).map(|word| word.name).collect()
}

fn takes_percent(word: &Word) -> bool {
    word.takes.iter().chain(word.or).any(|slot| matches!(slot.takes, Takes::Percent(..)))
}

/// Words whose text is no prose: numbers in quotes, tags, codes, dates, paths. A comma or a blank is no part of it.
const CODES: [&str; 27] = [
    "add-on",
    "colour",
    "condition",
    "copy",
    "data",
    "date",
    "features",
    "figures",
    "file",
    "hyphenation",
    "ink",
    "isbn",
    "kern",
    "keyline",
    "lab",
    "language",
    "look",
    "other-isbn",
    "place",
    "price",
    "printer",
    "profile",
    "rgb",
    "series",
    "text-plate",
    "until",
    "word-list",
];

#[test]
fn the_parser_knows_which_words_are_text() {
    let text = |word: &Word| word.takes.iter().any(|slot| slot.takes == Takes::Text);
    let sorted: BTreeSet<&str> = TEXTS.iter().chain(&CODES).copied().collect();
    assert_eq!(sorted, names(text), "each is either prose or a code");
    assert!(!TEXTS.iter().any(|word| CODES.contains(word)));
}

#[test]
fn the_parser_knows_which_words_are_percent() {
    assert_eq!(IN_PERCENT.iter().copied().collect::<BTreeSet<_>>(), names(takes_percent));
    for (word, _) in NOT_IN_PERCENT {
        let declared: Vec<_> = words().into_iter().filter(|known| known.name == *word).collect();
        assert!(declared.iter().any(|word| word.is_number() || !word.or.is_empty()), "{word} takes no number");
        assert!(!declared.iter().any(|word| takes_percent(word)), "{word} takes percent");
    }
}

#[test]
fn habits_lead_to_words_that_there_are() {
    let known = names(|_| true);
    let choices: BTreeSet<&str> = words()
        .iter()
        .flat_map(|word| word.takes.iter().chain(word.or))
        .flat_map(|slot| if let Takes::Choice(words) = slot.takes { words } else { &[] })
        .copied()
        .collect();
    for habit in habits() {
        assert!(known.contains(habit.ours) || choices.contains(habit.ours), "`{}` is no word", habit.ours);
    }
}
