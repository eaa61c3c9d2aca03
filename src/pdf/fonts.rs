//! Fonts: gathered from the scene before the page is drawn, and written as objects after it.
//!
//! A font whose licence or build does not let it be embedded is drawn as outlines.

use crate::assets::Font;
use crate::ground::{Digest, Rect, deflate};
use crate::pdf::font_program::{FontProgram, every_glyph};
use crate::pdf::forme::Forme;
use crate::pdf::page_font::{PageFont, SYSTEM};
use crate::scene::Mark;
use pdf_writer::types::{CidFontType, FontFlags};
use pdf_writer::{Filter, Name, Ref};
use std::sync::Arc;
use subsetter::GlyphRemapper;

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
            self.fonts.insert(font.digest(), PageFont::new(id, font, glyphs, self.darkroom));
        }
    }

    /// A font of the scene.
    pub fn font(&mut self, font: &Font) -> &mut PageFont {
        self.fonts.get_mut(&font.digest()).expect("every font of the scene was gathered before it is drawn")
    }

    /// Writes the objects of every font that the page shows as text.
    pub fn write_fonts(&mut self) {
        let mut fonts: Vec<PageFont> = std::mem::take(&mut self.fonts).into_values().collect();
        fonts.sort_by_key(|font| font.id.get());
        for font in &fonts {
            if let Some(program) = &font.program {
                self.write_font(font, program);
            }
        }
    }

    fn write_font(&mut self, page_font: &PageFont, program: &FontProgram) {
        let font = &page_font.font;
        let kept: Vec<u16> = page_font.glyphs.remapped_gids().collect();
        let compact = program.is_compact();
        let plain: String = font.name().chars().filter(|c| c.is_ascii_alphanumeric() || "-_".contains(*c)).collect();
        let name = if font.embedding().no_subset { plain } else { format!("{}+{plain}", tag(page_font.digest)) };
        let full = if compact { format!("{name}-Identity-H") } else { name.clone() };
        let [cid, descriptor, file, unicode] = std::array::from_fn(|_| self.id());

        let mut type0 = self.pdf.type0_font(page_font.id);
        type0.base_font(Name(full.as_bytes())).encoding_predefined(Name(b"Identity-H"));
        type0.descendant_font(cid).to_unicode(unicode);
        drop(type0);

        let mut dict = self.pdf.cid_font(cid);
        dict.subtype(if compact { CidFontType::Type0 } else { CidFontType::Type2 });
        dict.base_font(Name(name.as_bytes())).system_info(SYSTEM).font_descriptor(descriptor).default_width(0.0);
        if !compact {
            dict.cid_to_gid_map_predefined(Name(b"Identity"));
        }
        dict.widths().consecutive(0, kept.iter().map(|glyph| page_font.width(*glyph) as f32));
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

        let map = deflate(&page_font.unicode());
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
