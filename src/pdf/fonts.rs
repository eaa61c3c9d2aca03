//! Fonts: every face in use, its glyphs as they are first met, what each says, and its objects at the end.
//!
//! A face whose licence or build does not let it be embedded is drawn as outlines.

use crate::assets::Font;
use crate::ground::{Digest, Rect};
use crate::pdf::forme::Forme;
use crate::pdf::program::{Program, every_glyph};
use crate::pdf::squeeze::deflate;
use crate::scene::Mark;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Name, Ref, Str};
use std::collections::BTreeMap;
use std::sync::Arc;
use subsetter::GlyphRemapper;

const SYSTEM: SystemInfo<'static> = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

#[derive(Default)]
pub struct Fonts {
    faces: BTreeMap<Digest, Face>,
}

pub struct Face {
    font: Arc<Font>,
    pub id: Ref,
    /// `None`: its words are drawn as outlines.
    program: Option<Program>,
    /// Names the font and the glyphs kept.
    digest: Digest,
    glyphs: GlyphRemapper,
    /// What a glyph says, as first met.
    words: BTreeMap<u16, String>,
    hyphens: Vec<u16>,
}

impl Fonts {
    /// A face of the scene.
    pub fn face(&mut self, font: &Font) -> &mut Face {
        self.faces.get_mut(&font.digest()).expect("every font of the scene was gathered before it is drawn")
    }
}

impl Face {
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
    fn unicode(&self) -> Vec<u8> {
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

impl Forme<'_> {
    /// Gathers every glyph of the scene, and cuts the fonts to them.
    pub fn gather_fonts(&mut self) {
        let mut used: Vec<(Arc<Font>, GlyphRemapper)> = Vec::new();
        self.scene.walk(&mut |item| {
            let Mark::Glyphs(run) = &item.mark else { return };
            let digest = run.font.digest();
            let at = used.iter().position(|(font, _)| font.digest() == digest).unwrap_or_else(|| {
                let whole = run.font.embedding().no_subset;
                used.push((run.font.clone(), if whole { every_glyph(&run.font) } else { GlyphRemapper::new() }));
                used.len() - 1
            });
            let known = |glyph: &u16| u32::from(*glyph) < run.font.face().num_glyphs();
            for glyph in run.glyphs.iter().map(|glyph| glyph.id).filter(known) {
                used[at].1.remap(glyph);
            }
        });
        for (font, glyphs) in used {
            let id = self.id();
            let list: Vec<u8> = glyphs.remapped_gids().flat_map(u16::to_le_bytes).collect();
            let digest = Digest::of_all(&[font.digest().bytes(), &list]);
            let licence = font.embedding();
            let may = !licence.restricted && !licence.bitmap_only;
            let program = if may { Program::of(self.darkroom, digest, &font, &glyphs) } else { None };
            // A hyphen is one to the font, whichever use of it comes first.
            let hyphens = ['\u{2010}', '-'].map(|letter| Some((font.glyph(letter)?, letter.to_string())));
            let words: BTreeMap<u16, String> = hyphens.into_iter().flatten().collect();
            let (key, hyphens) = (font.digest(), words.keys().copied().collect());
            let face = Face { font, id, program, digest, glyphs, words, hyphens };
            self.fonts.faces.insert(key, face);
        }
    }

    /// Writes the objects of every face that the page shows as text.
    pub fn write_fonts(&mut self) {
        let mut faces: Vec<Face> = std::mem::take(&mut self.fonts.faces).into_values().collect();
        faces.sort_by_key(|face| face.id.get());
        for face in &faces {
            if let Some(program) = &face.program {
                self.write_font(face, program);
            }
        }
    }

    fn write_font(&mut self, face: &Face, program: &Program) {
        let font = &face.font;
        let kept: Vec<u16> = face.glyphs.remapped_gids().collect();
        let compact = program.is_compact();
        let plain: String = font.name().chars().filter(|c| c.is_ascii_alphanumeric() || "-_".contains(*c)).collect();
        let name = if font.embedding().no_subset { plain } else { format!("{}+{plain}", tag(face.digest)) };
        let full = if compact { format!("{name}-Identity-H") } else { name.clone() };
        let [cid, descriptor, file, unicode] = std::array::from_fn(|_| self.id());

        let mut type0 = self.pdf.type0_font(face.id);
        type0.base_font(Name(full.as_bytes())).encoding_predefined(Name(b"Identity-H"));
        type0.descendant_font(cid).to_unicode(unicode);
        drop(type0);

        let mut dict = self.pdf.cid_font(cid);
        dict.subtype(if compact { CidFontType::Type0 } else { CidFontType::Type2 });
        dict.base_font(Name(name.as_bytes())).system_info(SYSTEM).font_descriptor(descriptor).default_width(0.0);
        if !compact {
            dict.cid_to_gid_map_predefined(Name(b"Identity"));
        }
        dict.widths().consecutive(0, kept.iter().map(|glyph| face.width(*glyph) as f32));
        drop(dict);

        self.describe(font, &name, &kept, descriptor, (compact, file));
        let mut stream = self.pdf.stream(file, program.deflated());
        stream.filter(Filter::FlateDecode);
        if compact {
            stream.pair(Name(b"Subtype"), Name(b"CIDFontType0C"));
        } else {
            stream.pair(Name(b"Length1"), program.length());
        }
        drop(stream);

        let map = deflate(&face.unicode());
        self.pdf.stream(unicode, &map).filter(Filter::FlateDecode);
    }

    fn describe(&mut self, font: &Font, name: &str, kept: &[u16], id: Ref, (compact, file): (bool, Ref)) {
        let bounds = kept.iter().filter_map(|glyph| font.glyph_bounds(*glyph)).reduce(|a, b| a.union(b));
        let bounds = bounds.unwrap_or(Rect::ZERO);
        let thousand = |ems: f64| (ems * 1000.0).round() as f32;
        let metrics = font.metrics();
        let slope =
            if font.italic() { (FontFlags::SYMBOLIC | FontFlags::ITALIC, ITALIC) } else { (FontFlags::SYMBOLIC, 0.0) };
        let mut dict = self.pdf.font_descriptor(id);
        dict.name(Name(name.as_bytes())).flags(slope.0).italic_angle(slope.1);
        dict.bbox(pdf_writer::Rect::new(
            thousand(bounds.x0).floor(),
            thousand(-bounds.y1).floor(),
            thousand(bounds.x1).ceil(),
            thousand(-bounds.y0).ceil(),
        ));
        dict.ascent(thousand(metrics.ascender)).descent(-thousand(metrics.descender));
        dict.cap_height(thousand(metrics.cap_height)).x_height(thousand(metrics.x_height));
        dict.stem_v(stem(font.weight())).weight(font.weight());
        if compact {
            dict.font_file3(file);
        } else {
            dict.font_file2(file);
        }
    }
}

/// A slope that stands for any: readers use it only to replace a font they have not got, and they have this one.
const ITALIC: f32 = -12.0;

/// A stem's width by weight, for the same readers: 50 at hairline, 220 at the heaviest (a rule of thumb).
fn stem(weight: u16) -> f32 {
    (50.0 + f32::from(weight) / 900.0 * 170.0).round()
}

/// Six letters that tell one subset of a font from another.
fn tag(digest: Digest) -> String {
    digest.bytes()[..6].iter().map(|byte| char::from(b'A' + byte % 26)).collect()
}
