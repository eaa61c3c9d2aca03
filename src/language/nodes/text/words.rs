//! The words of a text, as data.

use crate::language::headword::WHEN;
use crate::language::nodes::style::STYLE_WORDS;
use crate::source::{KnownBy, Word, name, text, whole};

/// A text takes its words from one place: who names another takes the old one away.
const COPY_OF: KnownBy = KnownBy::Fixing("copy");

pub const WORDS: Word =
    Word::new("words", "words in line, with facts in braces").takes(&[text("words")]).known_by(COPY_OF);
pub const COPY: Word = Word::new("copy", "the path of a Markdown file").takes(&[text("a path")]).known_by(COPY_OF);
pub const STYLE: Word = Word::new("style", "the type style").takes(&[name("a style")]);
pub const STAND_IN: Word =
    Word::new("stand-in", "placeholder copy, which the check refuses").properties(&[COUNT]).known_by(COPY_OF);
pub const COUNT: Word =
    Word::new("words", "how many words of it").takes(&[whole("a number of words", 1.0, 2000.0)]).default("80");
pub const OTHERWISE: Word = Word::new("otherwise", "another setting, for words that do not fit as they are set before")
    .properties(&[LINES_OVER, STYLE, WORDS, COPY, WHEN])
    .holds(&[STYLE_WORDS])
    .many();
pub const LINES_OVER: Word = Word::new("lines-over", "also for words that take more lines than this").takes(&[whole(
    "a number of lines",
    1.0,
    100.0,
)]);
