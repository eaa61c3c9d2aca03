//! Node: one word of the language, a fact or an element, with its manual page.

use crate::assets::{Darkroom, Library, Shelf};
use crate::cover::{Draw, Element, Facts, Reading, Region};
use crate::ground::{FileId, Findings, Spanned};
use crate::scene::OutputChoices;
use crate::source::manual;
use crate::source::{self, Files, Reader};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::sync::Arc;

pub struct Node {
    pub name: &'static str,
    /// The source file whose head is the manual page.
    pub source: &'static str,
    pub role: Role,
}

#[derive(Clone, Copy)]
pub enum Role {
    /// States facts; read before any element.
    Fact(fn(&Reader<'_>, &mut Facts, &Desk<'_>)),
    /// Draws into its frame.
    Element(fn(&Reader<'_>, &Context<'_>) -> Option<Arc<dyn Draw>>),
    /// Holds elements, or stands for some.
    Holder,
}

impl Node {
    /// The manual page: the file's head.
    pub fn manual(&self) -> String {
        manual(self.source)
    }
}

/// What reading needs at hand.
#[derive(Clone, Copy)]
pub struct Desk<'a> {
    pub shelf: &'a dyn Shelf,
    pub darkroom: &'a Darkroom,
    pub library: &'a Library,
    pub files: &'a Files,
    pub findings: &'a RefCell<Findings>,
    /// The outputs that there are, and what may be chosen of each.
    pub outputs: &'a [(&'static str, OutputChoices)],
}

impl Desk<'_> {
    /// A file's bytes; one that does not come is reported where it was named.
    pub fn bytes(&self, path: &Spanned<String>) -> Option<Arc<[u8]>> {
        self.files.bytes(self.findings, self.shelf, path)
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
    pub parts: &'a BTreeMap<String, &'a source::Node>,
    /// How many groups and parts it stands in.
    pub depth: usize,
    /// How many elements have been read, parts counted wherever they are used.
    pub count: &'a Cell<usize>,
    /// Which way the spine reads.
    pub reading: Reading,
    pub read: fn(&[source::Node], &Context<'_>) -> Vec<Element>,
}

/// Groups and parts may stand in each other this deep.
pub const DEPTH_LIMIT: usize = 16;
/// No cover has so many elements; parts that use parts that use parts soon have.
pub const ELEMENT_LIMIT: usize = 30_000;
