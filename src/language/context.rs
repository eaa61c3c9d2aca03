//! Context: what reading a cover needs at hand, and what an element finds ready when it is read.

use crate::assets::{Darkroom, Library, Shelf};
use crate::cover::{Element, Facts, Reading, Region};
use crate::ground::{Digest, FileId, Findings, Span, Spanned};
use crate::scene::Surface;
use crate::source::{Files, Node, RuleWords, Word};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What reading needs at hand.
#[derive(Clone, Copy)]
pub struct Desk<'a> {
    pub shelf: &'a dyn Shelf,
    pub darkroom: &'a Darkroom,
    pub library: &'a Library,
    pub files: &'a Files,
    pub findings: &'a RefCell<Findings>,
    /// The words of the outputs that there are.
    pub outputs: &'a [&'static Word],
    /// The rules of the check with the words of their limits.
    pub rules: &'a [RuleWords],
    pub alike: &'a AlikeSizes,
}

/// Sizes of type that all covers of a series share, by the file that asks for them, the panel and the element's name.
pub type AlikeSizes = BTreeMap<(String, Surface, String), f64>;

/// Where no cover is held against others.
static NOTHING_ALIKE: AlikeSizes = BTreeMap::new();

impl<'a> Desk<'a> {
    /// With no words of outputs or rules, and no cover held against others.
    pub fn new(
        shelf: &'a dyn Shelf,
        darkroom: &'a Darkroom,
        library: &'a Library,
        files: &'a Files,
        findings: &'a RefCell<Findings>,
    ) -> Desk<'a> {
        Desk { shelf, darkroom, library, files, findings, outputs: &[], rules: &[], alike: &NOTHING_ALIKE }
    }

    /// A file's bytes; one that does not come is reported where it was named.
    pub fn bytes(&self, path: &Spanned<String>) -> Option<Arc<[u8]>> {
        self.files.bytes(self.findings, self.shelf, path)
    }

    /// The same, and its SHA-256, of a file that is not kept once it has been read: art is large.
    pub fn bytes_once(&self, path: &Spanned<String>) -> Option<(Arc<[u8]>, Digest)> {
        self.files.bytes_once(self.findings, self.shelf, path)
    }

    /// A file's text, numbered so that findings point into it.
    pub fn text(&self, path: &Spanned<String>) -> Option<(FileId, Arc<str>)> {
        self.files.read(self.findings, self.shelf, path)
    }
}

/// What an element finds ready when it is read.
#[derive(Clone, Copy)]
pub struct Context<'a> {
    pub desk: Desk<'a>,
    pub facts: &'a Facts,
    pub region: &'a Region,
    pub parts: &'a BTreeMap<String, &'a Node>,
    /// How many groups and parts it stands in.
    pub depth: usize,
    /// How many elements have been read, parts counted wherever they are used.
    pub count: &'a Cell<usize>,
    /// How many letters all texts have so far.
    pub letters: &'a Cell<usize>,
    /// Pixels of pictures that were thinned so far, once for every fade and mask.
    pub thinned: &'a Cell<u64>,
    /// Effects of drawings that are printed as pictures so far.
    pub pictured: &'a Cell<usize>,
    /// How many times a text runs round a neighbour so far.
    pub rounds: &'a Cell<usize>,
    /// Which way the spine reads.
    pub reading: Reading,
    /// Every word that an element may be.
    pub elements: &'a [&'static Word],
    pub read: fn(&[Node], &Context<'_>) -> Vec<Element>,
}

/// Groups and parts may stand in each other this deep.
pub const DEPTH_LIMIT: usize = 16;
/// A rich cover has some dozens of elements, a pattern of them some hundreds; parts within parts soon have more than this.
pub const ELEMENT_LIMIT: usize = 5000;
/// Letters of all texts together. A full jacket has some thousand.
pub const LETTER_LIMIT: usize = 60_000;
/// Neighbours that all texts run round together, each counted for each text.
const ROUND_LIMIT: usize = 200;
/// Effects of drawings that are printed as pictures; how much they take together is counted when they are drawn.
const PICTURED_LIMIT: usize = 200;
/// Pixels that fades and masks thin, and those of toned pictures, all together: two jackets at 300 to the inch, with a fade
/// each.
const THINNED_LIMIT: u64 = 100_000_000;

impl Context<'_> {
    /// Counts an element; beyond the limit there are no more.
    pub fn counts(&self, node: &Node) -> bool {
        self.count.set(self.count.get() + 1);
        if self.count.get() == ELEMENT_LIMIT + 1 {
            let message = format!("the cover has more than {ELEMENT_LIMIT} elements; the rest is left out");
            let help = "a part that uses itself, or parts and lists many times within each other, come to this";
            self.desk.findings.borrow_mut().error(node.name.span, message, help);
        }
        self.count.get() <= ELEMENT_LIMIT
    }

    /// Counts pixels that are thinned or toned; a picture beyond the limit stays as it is, which is reported.
    pub fn counts_thinned(&self, pixels: u64, span: Span) -> bool {
        self.thinned.set(self.thinned.get().saturating_add(pixels));
        let within = self.thinned.get() <= THINNED_LIMIT;
        if !within {
            let limit = THINNED_LIMIT / 1_000_000;
            let message = format!("fades, masks and tones of the cover have more than {limit} million pixels together");
            let help = "place smaller pictures, or save this one as it is to fade, with transparency";
            self.desk.findings.borrow_mut().error(span, message, help);
        }
        within
    }

    /// Counts effects of drawings that are drawn as pictures; beyond the limit a drawing is not placed.
    pub fn counts_pictured(&self, effects: usize, span: Span) -> bool {
        self.pictured.set(self.pictured.get() + effects);
        let within = self.pictured.get() <= PICTURED_LIMIT;
        if !within {
            let message = format!(
                "the drawings of the cover have more than {PICTURED_LIMIT} effects that are printed as pictures"
            );
            let help = "take filters and blend modes out of them, or place them as pictures of pixels";
            self.desk.findings.borrow_mut().error(span, message, help);
        }
        within
    }

    /// Counts a neighbour that a text runs round; beyond the limit there are no more.
    pub fn counts_round(&self, span: Span) -> bool {
        self.rounds.set(self.rounds.get() + 1);
        if self.rounds.get() == ROUND_LIMIT + 1 {
            let message =
                format!("the texts of the cover run round more than {ROUND_LIMIT} neighbours; the rest is left out");
            let help = "put several neighbours into a `group`, and run round that";
            self.desk.findings.borrow_mut().error(span, message, help);
        }
        self.rounds.get() <= ROUND_LIMIT
    }

    /// Counts the letters of a text, which stand at a place; beyond the limit there are no more.
    pub fn counts_letters(&self, letters: usize, span: Span) -> bool {
        let before = self.letters.get();
        self.letters.set(before + letters);
        if self.letters.get() > LETTER_LIMIT && before <= LETTER_LIMIT {
            let message =
                format!("the texts of the cover have more than {LETTER_LIMIT} letters together; the rest is left out");
            let help = "shorten them; a file that several texts show counts for each of them";
            self.desk.findings.borrow_mut().error(span, message, help);
        }
        self.letters.get() <= LETTER_LIMIT
    }
}
