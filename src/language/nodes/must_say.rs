//! `must-say`: words that must stand on the cover.
//!
//! ```kdl
//! must-say "Printed in"
//! must-say "{publisher}"
//! book { title "Salt and Lanterns"; author "Mirela Anand"; pages 320; publisher "Tern Passage" }
//! panel back { text imprint words="{publisher} · Printed in Ireland" { left safe; bottom safe; size 7; width 60 } }
//! ```
//!
//! A house states in the file of its series what the law and its own customs ask for: its imprint, the country of printing, an
//! address, `{credits}`. A cover that does not say it is reported by the rule `line-missing`. Capitals, blanks and marks do not
//! count, and a part of a line is enough. Facts may stand in the words.

use crate::cover::Facts;
use crate::ground::Spanned;
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::language::words::fill;
use crate::source::{KnownBy, Laid, Reader, Word, name};

pub const HEADWORD: Headword = Headword::new(
    Word::new("must-say", "words that must stand on the cover")
        .takes(&[name("the words, such as \"Printed in\"")])
        .known_by(KnownBy::Name)
        .laid(Laid::Inside),
    include_str!("must_say.rs"),
    Role::Fact(read),
);

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    let Some(words) = reader.text() else { return };
    let filled = fill(&mut desk.findings.borrow_mut(), &facts.book, &words.value, &|_| words.span, false);
    if !filled.trim().is_empty() && !filled.contains(char::is_alphanumeric) {
        let message = format!("{filled:?} has no letter or figure to look for");
        reader.error(words.span, message, "name words: `must-say \"Printed in\"`");
    } else if !filled.trim().is_empty() {
        facts.must_say.push(Spanned::new(filled, words.span));
    }
}
