//! Typesetter: sets words, and remembers blocks by digest.

use crate::assets::{Keep, Library, Tally, nearest};
use crate::ground::{Digest, Memo, Rect};
use crate::typeset::{
    Block, Copy, Style,
    block::build,
    fit::fit,
    itemise::Faces,
    kept::{decode, encode},
    layout::{Frame, itemised, prepare},
    shape::Shaper,
};
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
    blocks: Memo<Block>,
    tally: Arc<Tally>,
    /// Where blocks outlast the process, and what tells this library from others there.
    keep: Option<(Arc<dyn Keep>, Digest)>,
}

/// Bytes of set words that one library's typesetter remembers, and how many typesetters are kept; see
/// `assets/darkroom.rs`.
const BLOCKS: usize = 6 << 20;
pub const TYPESETTERS: usize = 4;

/// Why words cannot be set at all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unset {
    /// No such family; the nearest known.
    Family { wanted: String, nearest: Option<String> },
    /// More than the limit of characters in one text.
    TooLong { limit: usize },
}

/// Characters in one text.
const LIMIT: usize = 100_000;

impl Typesetter {
    pub fn new(library: Arc<Library>, tally: Arc<Tally>) -> Typesetter {
        Typesetter { library, blocks: Memo::bounded(BLOCKS, Block::weight), tally, keep: None }
    }

    /// Blocks outlast the process; `fonts` names all that the library has beside the bundled faces.
    #[must_use]
    pub fn keeping(mut self, keep: Option<Arc<dyn Keep>>, fonts: Digest) -> Typesetter {
        self.keep = keep.map(|keep| (keep, fonts));
        self
    }

    pub fn library(&self) -> &Library {
        &self.library
    }

    /// Total-fit lines at the largest size of the style that fits the room; the least size when none does, with
    /// `Block::overmatter` saying by how much it stands over.
    pub fn set(&self, copy: &Copy, style: &Style, room: Room) -> Result<Arc<Block>, Unset> {
        self.set_around(copy, style, room, &[])
    }

    /// The same, round holes (rectangles in the block's space, gaps included): beside one, lines keep to the widest
    /// stretch that is free.
    pub fn set_around(&self, copy: &Copy, style: &Style, room: Room, holes: &[Rect]) -> Result<Arc<Block>, Unset> {
        let words = copy.paragraphs.iter().flat_map(|paragraph| &paragraph.words);
        // Bytes first: they are counted in no time, and a character has at least one.
        let bytes: usize = words.clone().map(|words| words.text.len()).sum();
        if bytes > LIMIT && words.map(|words| words.text.chars().count()).sum::<usize>() > LIMIT {
            return Err(Unset::TooLong { limit: LIMIT });
        }
        // Debug output says every field, and numbers to their last bit.
        let key = Digest::of(format!("{copy:?}{style:?}{room:?}{holes:?}").as_bytes());
        if let Some(block) = self.blocks.get(key) {
            return Ok(block);
        }
        if let Some(block) = self.recall(key) {
            return Ok(self.blocks.keep(key, block).0);
        }
        let made = self.make(copy, style, Frame { room, holes })?;
        if let Some((keep, fonts)) = &self.keep
            && let Some(bytes) = encode(&made)
        {
            keep.put(BLOCK, with(key, *fonts), &bytes);
        }
        let (block, first) = self.blocks.keep(key, made);
        if first {
            self.tally.set.one();
        }
        Ok(block)
    }

    fn recall(&self, key: Digest) -> Option<Block> {
        let (keep, fonts) = self.keep.as_ref()?;
        decode(&keep.get(BLOCK, with(key, *fonts))?, &self.library)
    }

    fn make(&self, copy: &Copy, style: &Style, frame: Frame<'_>) -> Result<Block, Unset> {
        let unknown = || Unset::Family {
            wanted: style.family.clone(),
            nearest: nearest(&style.family, self.library.families().into_iter()),
        };
        let base = Faces::new(&self.library, style).font(false, false).ok_or_else(unknown)?;
        let (faces, passages) = itemised(copy, style, &self.library).ok_or_else(unknown)?;
        let mut shaper = Shaper::new(&faces, &style.language);
        let prepared = prepare(passages, style, &faces, &mut shaper);
        let layout = fit(&prepared, style, &base, frame);
        Ok(build(&prepared, &layout, style, &base, frame.room, &mut shaper))
    }
}

/// What a block is called where it is kept.
const BLOCK: &str = "block";

fn with(key: Digest, fonts: Digest) -> Digest {
    Digest::of_all(&[key.bytes(), fonts.bytes()])
}
