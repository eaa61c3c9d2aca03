//! Facts: what is stated once for the whole cover, ready before any element is read.

use crate::assets::Profile;
use crate::cover::{
    Extent, Format, Guides, Isbn, Keyline, Lettering, Materials, Palette, PrinterAsks, Rights, StatedLimits, WordList,
};
use crate::ground::{Ink, Span, Spanned, right_to_left};
use crate::scene::{BookView, Delivery};
use crate::typeset::{PatternFile, Signs, Style};
use std::collections::BTreeMap;
use std::sync::Arc;

#[derive(Clone)]
pub struct Facts {
    pub book: Book,
    pub format: Format,
    pub press: Press,
    pub palette: Palette,
    pub rights: Rights,
    pub styles: BTreeMap<String, TypeStyle>,
    /// Patterns that a house brings, by language tags in small letters.
    pub patterns: BTreeMap<String, Arc<PatternFile>>,
    pub guides: Guides,
    pub materials: Materials,
    /// Pictures of the finished book.
    pub views: Vec<BookView>,
    /// Which settings the outputs have.
    pub delivery: Delivery,
    /// Words that must stand on the cover.
    pub must_say: Vec<Spanned<String>>,
    /// Words that the house knows.
    pub word_lists: Vec<WordList>,
    /// The printer's page to design on.
    pub keyline: Option<Keyline>,
    /// Limits of rules, where they are not the usual ones.
    pub limits: Arc<StatedLimits>,
    /// Those of the printer's file.
    pub printer: Arc<PrinterAsks>,
}

/// The book itself.
#[derive(Clone, Default)]
pub struct Book {
    /// Everything that `{name}` may stand for, and where it was stated.
    pub words: BTreeMap<String, Spanned<String>>,
    /// The breaks chosen for a fact's words, where a style asks for them.
    pub lines: BTreeMap<String, Vec<String>>,
    /// The currencies of its prices, in the order in which they were stated.
    pub currencies: Vec<String>,
    /// The amounts by their currencies, as they were stated.
    pub amounts: BTreeMap<String, String>,
    /// The lists whose items stand for the whole, inside `each`.
    pub at_hand: Vec<String>,
    /// Facts are supposed that nobody stated, to read what is left out for its slips.
    pub supposed: bool,
    pub language: Spanned<String>,
    /// Said outright; otherwise the language's script decides.
    pub binding_side: Option<BindingSide>,
    pub pages: Spanned<u32>,
    pub extent: Extent,
    pub isbn: Option<Spanned<Isbn>>,
    pub version: Option<u32>,
    pub date: Option<String>,
    pub span: Span,
}

/// Where the spine is, seen from the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BindingSide {
    Left,
    Right,
}

impl BindingSide {
    pub const WORDS: [(&'static str, BindingSide); 2] = [("left", BindingSide::Left), ("right", BindingSide::Right)];
}

#[derive(Clone)]
pub struct Press {
    pub profile: Arc<Profile>,
    /// The most ink on one spot, 1 a solid.
    pub ink_limit: f64,
    /// Pictures are kept within so much.
    pub limit_inks: Option<f64>,
    /// The one plate for all words, where the house keeps one.
    pub text_plate: Option<Spanned<String>>,
    pub span: Span,
}

/// A type style and the swatch that its words are printed in.
#[derive(Clone, Debug, PartialEq)]
pub struct TypeStyle {
    pub style: Style,
    /// Where one size is asked for in all covers of a series.
    pub alike: Option<Span>,
    pub swatch: Spanned<String>,
    /// A thinner tint of the swatch, 0 to 1.
    pub percent: f64,
    /// Said outright; otherwise solid black overprints and nothing else does.
    pub overprint: Option<bool>,
    pub lettering: Lettering,
    /// The inks of letters and words that are set apart, where they have their own.
    pub apart: Vec<Option<Ink>>,
    /// So many words that begin with a drop cap stand in small capitals.
    pub small_caps_after: usize,
    /// Said outright; otherwise justified copy is hyphenated and nothing else is.
    pub hyphenate: Option<bool>,
    /// Break titles where the book says.
    pub chosen_breaks: bool,
    /// Words that are never hyphenated.
    pub keep_whole: Vec<String>,
    /// Signs of a keyboard that are printed as the language does.
    pub signs: Signs,
    pub span: Span,
}

impl Facts {
    /// The patterns that a house brings for a language, or for all of its kinds.
    pub fn patterns_for(&self, language: &str) -> Option<Arc<PatternFile>> {
        let tag = language.to_ascii_lowercase().replace('_', "-");
        let primary = tag.split('-').next().unwrap_or_default();
        self.patterns.get(&tag).or_else(|| self.patterns.get(primary)).cloned()
    }
}

impl Book {
    /// A fact's words, when they were said and are not empty.
    pub fn word(&self, name: &str) -> Option<&str> {
        self.words.get(name).map(|word| word.value.as_str()).filter(|word| !word.trim().is_empty())
    }

    /// As if it stated a fact, and all that may belong to it.
    #[must_use]
    pub fn supposing(&self, name: &str, span: Span) -> Book {
        let mut book = Book { supposed: true, ..self.clone() };
        for tail in ["", ".short", ".by", ".source", ".number"] {
            book.words.insert(format!("{name}{tail}"), Spanned::new("stated".to_owned(), span));
        }
        book
    }

    /// Whether its script runs leftwards.
    pub fn right_to_left(&self) -> bool {
        right_to_left(&self.language.value)
    }

    /// Whether it is bound on the right: with its front before you, the spine is at the right.
    pub fn bound_right(&self) -> bool {
        self.binding_side.map_or(self.right_to_left(), |side| side == BindingSide::Right)
    }
}
