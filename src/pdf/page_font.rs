//! A font as one page uses it: which glyphs, what each says, how wide it is.

use crate::assets::{Darkroom, Font};
use crate::ground::Digest;
use crate::pdf::font_program::FontProgram;
use pdf_writer::types::{SystemInfo, UnicodeCmap};
use pdf_writer::{Name, Ref, Str};
use std::collections::BTreeMap;
use std::sync::Arc;
use subsetter::GlyphRemapper;

/// The character collection that a font of its own numbering must name (ISO 32000, 9.7.3).
pub const SYSTEM: SystemInfo<'static> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// A font of the scene, with the glyphs that the page shows.
pub struct PageFont {
    pub id: Ref,
    pub font: Arc<Font>,
    /// `None`: its words are drawn as outlines.
    pub program: Option<FontProgram>,
    /// Names the font and the glyphs kept.
    pub digest: Digest,
    pub glyphs: GlyphRemapper,
    /// What a glyph says, as first met.
    words: BTreeMap<u16, String>,
    hyphens: Vec<u16>,
}

impl PageFont {
    pub fn new(id: Ref, font: Arc<Font>, glyphs: GlyphRemapper, darkroom: &Darkroom) -> PageFont {
        let list: Vec<u8> = glyphs.remapped_gids().flat_map(u16::to_le_bytes).collect();
        let digest = Digest::of_all(&[font.digest().bytes(), &list]);
        let licence = font.embedding();
        let may = !licence.restricted && !licence.bitmap_only;
        let program = if may { FontProgram::of(darkroom, digest, &font, &glyphs) } else { None };
        // A hyphen is one to the font, whichever use of it comes first.
        let hyphens = ['\u{2010}', '-'].map(|letter| Some((font.glyph(letter)?, letter.to_string())));
        let words: BTreeMap<u16, String> = hyphens.into_iter().flatten().collect();
        let hyphens = words.keys().copied().collect();
        PageFont { id, font, program, digest, glyphs, words, hyphens }
    }

    pub fn embeds(&self) -> bool {
        self.program.is_some()
    }

    pub fn cid(&self, glyph: u16) -> u16 {
        self.glyphs.get(glyph).unwrap_or_default()
    }

    /// In whole thousandths of an em, as the file says it; what is lost is mended glyph by glyph.
    pub fn width(&self, glyph: u16) -> f64 {
        (self.font.advance(glyph) * 1000.0).round()
    }

    /// Whether the glyph by itself says this text.
    pub fn says(&mut self, glyph: u16, text: &str) -> bool {
        match self.words.get(&glyph) {
            Some(known) => known == text,
            None if text.is_empty() => false,
            None => {
                self.words.insert(glyph, text.to_owned());
                true
            }
        }
    }

    /// The map from glyphs back to letters.
    pub fn unicode(&self) -> Vec<u8> {
        let mut map = UnicodeCmap::new(Name(b"Custom"), SYSTEM);
        for (glyph, text) in &self.words {
            if let Some(cid) = self.glyphs.get(*glyph) {
                map.pair_with_multiple(cid, text.chars());
            }
        }
        map.finish().to_vec()
    }

    pub fn is_hyphen(&self, glyph: u16) -> bool {
        self.hyphens.contains(&glyph)
    }
}
