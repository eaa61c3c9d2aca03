//! Hyphenation: whether words part, how, and by whose patterns.

use crate::cover::Facts;
use crate::ground::Span;
use crate::language::context::Desk;
use crate::language::nodes::style::words::{AFTER, BEFORE, HYPHENATE, IN_ROW};
use crate::source::{KnownBy, Reader, Word, text};
use crate::typeset::{PatternFile, Style};
use std::sync::Arc;

pub const PATTERNS: Word = Word::new("hyphenation", "patterns by which the words of a language part")
    .takes(&[text("a language tag, such as sv")])
    .properties(&[FILE])
    .known_by(KnownBy::Name)
    .many();
const FILE: Word = Word::new("file", "the path of a file of patterns, in TeX's format").takes(&[text("a path")]);

/// Whether words part, where it is stated; how they do is put into the style.
pub fn stated(reader: &Reader<'_>, style: &mut Style) -> Option<bool> {
    let word = reader.child(&HYPHENATE)?;
    let hyphens = &mut style.hyphenation;
    for (of, slot) in [(&BEFORE, &mut hyphens.before), (&AFTER, &mut hyphens.after), (&IN_ROW, &mut hyphens.in_row)] {
        *slot = word.number_property(of).map_or(*slot, |number| number.value as usize);
    }
    word.flag()
}

/// A house has few languages, and a file of patterns takes a while to read.
const MOST: usize = 8;

/// The patterns that a house brings.
pub fn patterns(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    for (at, word) in reader.children(&PATTERNS).into_iter().enumerate() {
        let (language, path) = (word.text(), word.text_property(&FILE));
        let Some(language) = language else { continue };
        if at == MOST {
            let message = format!("patterns for more than {MOST} languages");
            word.error(word.span(), message, "keep those that the covers use");
        }
        if at >= MOST {
            continue;
        }
        let Some(path) = path else {
            let help = format!("write `hyphenation \"{0}\" file=\"hyph-{0}.tex\"`", language.value);
            word.lacks(language.span, "the patterns lack their file", help);
            continue;
        };
        let Some((file, text)) = desk.text(&path) else { continue };
        match PatternFile::read(&text) {
            Ok(patterns) => {
                let tag = language.value.to_ascii_lowercase().replace('_', "-");
                facts.patterns.insert(tag, Arc::new(patterns));
            }
            Err((message, at)) => {
                let help = "patterns look like `.ab1er`, in `\\patterns{…}`; words with their hyphens stand in `\\hyphenation{…}`";
                word.error(Span::new(file, at), message, help);
            }
        }
    }
}
