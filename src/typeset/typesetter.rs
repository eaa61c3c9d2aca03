//! Typesetter: sets words, and remembers blocks by digest.

use crate::assets::{Keep, Library, Tally, nearest};
use crate::ground::{Digest, Memo};
use crate::typeset::{
    block::Block,
    copy::Copy,
    fit::fit,
    itemise::Cuts,
    marks::is_combining_mark,
    optical::{follows_size, optical_size},
    plan::{itemised, prepare},
    room::Room,
    shape::Shaper,
    stored::{decode, encode},
    style::Style,
    touch::{LEAST_SIZE, touching},
};
use std::sync::Arc;

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
    /// More than the limit of combining marks on one letter.
    TooManyMarks { limit: usize },
}

/// Characters in one text. A back cover has 2000.
pub const MOST_LETTERS: usize = 20_000;
/// Marks on one letter: what the Stream-Safe Text Format of Unicode allows (UAX 15, 13).
const MARKS: usize = 30;

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
    pub fn set(&self, copy: &Copy, style: &Style, room: Room<'_>) -> Result<Arc<Block>, Unset> {
        let words = copy.paragraphs.iter().flat_map(|paragraph| &paragraph.phrases);
        // Bytes first: they are counted in no time, and a character has at least one.
        let bytes: usize = words.clone().map(|words| words.text.len()).sum();
        if bytes > MOST_LETTERS && words.map(|words| words.text.chars().count()).sum::<usize>() > MOST_LETTERS {
            return Err(Unset::TooLong { limit: MOST_LETTERS });
        }
        let texts = copy.paragraphs.iter().flat_map(|paragraph| &paragraph.phrases).map(|phrase| phrase.text.as_str());
        if most_marks(texts) > MARKS {
            return Err(Unset::TooManyMarks { limit: MARKS });
        }
        // Debug output says every field, and numbers to their last bit.
        let key = Digest::of(format!("{copy:?}{style:?}{room:?}").as_bytes());
        if let Some(block) = self.blocks.get(key) {
            return Ok(block);
        }
        if let Some(block) = self.recall(key) {
            return Ok(self.blocks.keep(key, block).0);
        }
        let made = self.make(copy, style, room)?;
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

    fn make(&self, copy: &Copy, style: &Style, room: Room<'_>) -> Result<Block, Unset> {
        let unknown = || Unset::Family {
            wanted: style.family.clone(),
            nearest: nearest(&style.family, self.library.families().into_iter()),
        };
        // A size that is found asks for another drawing, which may lead to another size.
        let mut points = style.range().map_or(style.largest(), |(_, most)| most);
        for _ in 0..OPTICAL_ROUNDS {
            let block = self.make_at(copy, style, room, points).ok_or_else(unknown)?;
            let found = optical_size(block.size);
            let follows = || block.lines.iter().flat_map(|line| &line.runs).any(|run| follows_size(&run.font, style));
            if found.to_bits() == optical_size(points).to_bits() || !follows() {
                return Ok(block);
            }
            points = block.size;
        }
        self.make_at(copy, style, room, points).ok_or_else(unknown)
    }

    fn make_at(&self, copy: &Copy, style: &Style, room: Room<'_>, points: f64) -> Option<Block> {
        let base = Cuts::new(&self.library, style, points).font(false, false)?;
        let copy = itemised(copy, style, &self.library, points)?;
        let mut shaper = Shaper::new(&copy.cuts, &style.language)
            .kerned(style, copy.passages.iter().map(|passage| passage.text.as_str()));
        let measured = prepare(&copy, style, &mut shaper);
        let mut block = fit(&measured, style, &base, room, &mut shaper);
        if block.size >= LEAST_SIZE && !style.upright {
            block.touching = touching(&block.lines);
        }
        Some(block)
    }
}

/// How often a size is found again for the drawing that it asks for.
const OPTICAL_ROUNDS: usize = 3;

/// How many combining marks follow each other at the most.
fn most_marks<'a>(texts: impl Iterator<Item = &'a str>) -> usize {
    let (mut most, mut run) = (0, 0);
    for letter in texts.flat_map(str::chars) {
        run = if is_combining_mark(letter) { run + 1 } else { 0 };
        most = most.max(run);
    }
    most
}

/// What a block is called where it is kept.
const BLOCK: &str = "block";

fn with(key: Digest, fonts: Digest) -> Digest {
    Digest::of_all(&[key.bytes(), fonts.bytes()])
}
