//! Typesetter: sets words, and remembers blocks by digest.

use crate::assets::Library;
use crate::typeset::{Block, Copy, Style};
use std::sync::Arc;

/// The room that words may take, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    pub width: f64,
    /// Without a height the words take what they need.
    pub height: Option<f64>,
    pub lines: Option<usize>,
}

pub struct Typesetter {
    library: Arc<Library>,
}

/// Why words cannot be set at all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unset {
    /// No such family; the nearest known.
    Family { wanted: String, nearest: Option<String> },
    /// More than the limit of characters in one text.
    TooLong { limit: usize },
}

impl Typesetter {
    pub fn new(library: Arc<Library>) -> Typesetter {
        Typesetter { library }
    }
    pub fn library(&self) -> &Library {
        &self.library
    }
    /// Total-fit lines at the largest size of the style that fits the room; the least size when none does, with
    /// `Block::overmatter` saying by how much it stands over.
    pub fn set(&self, copy: &Copy, style: &Style, room: Room) -> Result<Arc<Block>, Unset> {
        let _ = (copy, style, room);
        unimplemented!()
    }
    /// After a build: forget what is no longer asked for.
    pub fn sweep(&self) {}
}
