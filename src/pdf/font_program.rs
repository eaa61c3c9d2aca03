//! Font programs: the part of a font file that a page needs, compressed. The one door to the subsetter.

use crate::assets::{Darkroom, Font};
use crate::ground::{Digest, deflate};
use std::sync::Arc;
use subsetter::{GlyphRemapper, Tag, subset, subset_with_variations};

/// As the darkroom keeps it: one byte for the kind, four for the length before compression, then the program.
pub struct FontProgram(Arc<Vec<u8>>);

const HEAD: usize = 5;

impl FontProgram {
    pub fn of(darkroom: &Darkroom, key: Digest, font: &Font, glyphs: &GlyphRemapper) -> Option<FontProgram> {
        let key = Digest::of_all(&[b"font program", key.bytes()]);
        let kept = darkroom.compressed(key, || make(font, glyphs).unwrap_or_default());
        (kept.len() > HEAD).then_some(FontProgram(kept))
    }

    /// Compact Font Format, not TrueType.
    pub fn is_compact(&self) -> bool {
        self.0[0] == 1
    }

    pub fn length(&self) -> i32 {
        i32::from_le_bytes(std::array::from_fn(|at| self.0[at + 1]))
    }

    pub fn deflated(&self) -> &[u8] {
        &self.0[HEAD..]
    }
}

/// The font with only these glyphs, at its place in the design space.
fn cut(font: &Font, glyphs: &GlyphRemapper) -> Option<Vec<u8>> {
    if font.coordinates().is_empty() {
        return subset(font.bytes(), font.index(), glyphs).ok();
    }
    let place: Vec<_> = font.coordinates().iter().map(|(tag, value)| (Tag::new(tag), *value)).collect();
    subset_with_variations(font.bytes(), font.index(), &place, glyphs).ok()
}

/// Every glyph at its own number: for fonts whose licence wants them whole.
pub fn every_glyph(font: &Font) -> GlyphRemapper {
    let count = u16::try_from(font.face().num_glyphs()).unwrap_or(u16::MAX);
    let glyphs: Vec<u16> = (0..count).collect();
    GlyphRemapper::new_from_glyphs_sorted(&glyphs)
}

fn make(font: &Font, glyphs: &GlyphRemapper) -> Option<Vec<u8>> {
    let whole = cut(font, glyphs)?;
    let compact = whole.starts_with(b"OTTO");
    let program = if compact { table(&whole, *b"CFF ")? } else { &whole[..] };
    let mut kept = vec![u8::from(compact)];
    kept.extend(i32::try_from(program.len()).ok()?.to_le_bytes());
    kept.extend(deflate(program));
    Some(kept)
}

/// A table of a font file.
fn table(file: &[u8], tag: [u8; 4]) -> Option<&[u8]> {
    let number = |at: usize| Some(u32::from_be_bytes(file.get(at..at + 4)?.try_into().ok()?) as usize);
    let count = usize::from(u16::from_be_bytes(file.get(4..6)?.try_into().ok()?));
    let record = (0..count).map(|index| 12 + 16 * index).find(|at| file.get(*at..at + 4) == Some(&tag[..]))?;
    let (start, length) = (number(record + 8)?, number(record + 12)?);
    file.get(start..start.checked_add(length)?)
}
