//! `word-list`: words that your house knows, so that others on a cover are reported.
//!
//! ```kdl
//! word-list en-GB words="a novel of the sea Osselby Sørholm"
//! panel back { text blurb words="A novel of the sea." { left safe; right safe; top 30 } }
//! ```
//!
//! - The language is a BCP 47 tag, and the list is for books in that language; `en` is for `en-GB`, too.
//! - `file="words-en.txt"` names a text of words in lines, with blanks between them, and with remarks after `#`. `words=` adds some
//!   of a series or a cover. A file of a series brings its own; a cover that states a list of the same language adds to it what it says.
//! - Capitals do not count, and neither does the form of an apostrophe. Names that the book states are known.
//! - Without a list nothing is reported: no dictionary is bundled. Word lists of many languages are free to have; mind their
//!   licences.
//!
//! What is unknown is reported by the rule `unknown-word`. A list has a million words at the most, and a cover 16
//! files and `words=` together.

use crate::cover::{Facts, WordList};
use crate::ground::Spanned;
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::language::nodes::book::language;
use crate::source::{KnownBy, Laid, Reader, Word, text};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    Word::new("word-list", "words that your house knows in a language")
        .takes(&[text("a language tag, such as en-GB")])
        .properties(&[FILE, WORDS])
        .known_by(KnownBy::Name)
        .laid(Laid::Inside),
    include_str!("word_list.rs"),
    Role::Fact(read),
);

const FILE: Word = Word::new("file", "a text of words").takes(&[text("a path")]);
const WORDS: Word = Word::new("words", "some words").takes(&[text("words, with blanks between")]);

const MOST_WORDS: usize = 1_000_000;
/// A house has few languages, and a list takes a while to read.
const MOST_LISTS: usize = 16;

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    let tag = language(reader);
    let (path, words) = (reader.text_property(&FILE), reader.text_property(&WORDS));
    if path.is_none() && words.is_none() {
        reader.lacks(
            reader.span(),
            "a list without words",
            "write `word-list en-GB file=\"words-en.txt\"`, or `words=`",
        );
    }
    let Some(tag) = tag else { return };
    if facts.word_lists.len() + usize::from(path.is_some()) + usize::from(words.is_some()) > MOST_LISTS {
        let message = format!("word lists of more than {MOST_LISTS} files and `words=`");
        reader.error(reader.span(), message, "keep those of the languages that the covers use");
        return;
    }
    let file = path.as_ref().and_then(|path| Some(Spanned::new(desk.text(path)?.1, path.span)));
    let typed = words.map(|words| Spanned::new(words.value.into(), words.span));
    for text in file.into_iter().chain(typed) {
        let list = WordList { language: tag.clone(), text: text.value };
        let count = list.words().take(MOST_WORDS + 1).count();
        if count == 0 {
            reader.error(text.span, "there is no word in it", "write words in lines, or with blanks between");
        } else if count > MOST_WORDS {
            let message = format!("this list has more than {MOST_WORDS} words");
            reader.error(text.span, message, "leave out forms that nobody writes, or list another language apart");
        }
        // A faulty one counts, too, and knows nothing.
        let text = if (1..=MOST_WORDS).contains(&count) { list.text } else { Arc::default() };
        facts.word_lists.push(WordList { text, ..list });
    }
}
