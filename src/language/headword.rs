//! Headword: a word that has a page of its own in the manual, and what reads it.

use crate::cover::{Draw, Facts};
use crate::language::context::{Context, Desk};
use crate::scene::Kind;
use crate::source::{KnownBy, Laid, Reader, Slot, Word, name};
use std::sync::Arc;

pub struct Headword {
    pub word: Word,
    /// The source file whose head is the manual page.
    pub source: &'static str,
    pub role: Role,
    /// Another word that its page explains.
    pub beside: Option<Word>,
}

#[derive(Clone, Copy)]
pub enum Role {
    /// States facts; read before any element.
    Fact(fn(&Reader<'_>, &mut Facts, &Desk<'_>)),
    /// Draws into its frame; the kind is what it is to a production manager.
    Element(Kind, fn(&Reader<'_>, &Context<'_>) -> Option<Arc<dyn Draw>>),
    /// Holds elements, or stands for some.
    Holder,
}

impl Headword {
    pub const fn new(word: Word, source: &'static str, role: Role) -> Headword {
        Headword { word, source, role, beside: None }
    }

    #[must_use]
    pub const fn beside(self, word: Word) -> Headword {
        Headword { beside: Some(word), ..self }
    }

    /// Every word that its page explains.
    pub fn words(&self) -> impl Iterator<Item = &Word> {
        std::iter::once(&self.word).chain(&self.beside)
    }
}

/// What an element is called.
pub const NAME: &[Slot] = &[name("a name")];

/// An element with properties of its own; `when=` and `unless=` belong to all.
pub const fn element(name: &'static str, says: &'static str) -> Word {
    Word::new(name, says).takes(NAME).properties(&[WHEN, UNLESS]).known_by(KnownBy::Name).laid(Laid::Inside)
}

/// Every element has the two.
pub const WHEN: Word = Word::new("when", "only where the book states this fact").takes(&[name("a fact")]);
pub const UNLESS: Word = Word::new("unless", "only where the book does not state this fact").takes(&[name("a fact")]);
