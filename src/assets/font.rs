//! Font: a face, its metrics, its licence to embed. The one door to the font reader.

mod axes;
mod bare_cff;
mod part;
mod plain;
mod sink;

use crate::assets::axis::AxisPlace;
use crate::ground::{Affine, Digest, Path, Rect, Shape as _};
pub use bare_cff::BareCff;
use sink::Sink;
use skrifa::font::Blob;
use skrifa::raw::{FontRef, TableProvider as _, types::NameId};
use skrifa::{DrawMemory, GlyphId, ScalerFont};
use std::sync::{Arc, LazyLock, OnceLock};

/// One face at one place of its design space.
pub struct Font {
    name: String,
    family: String,
    weight: u16,
    italic: bool,
    bytes: Blob,
    index: u32,
    coordinates: Vec<AxisPlace>,
    face: skrifa::Font,
    digest: OnceLock<Digest>,
    features: OnceLock<Vec<[u8; 4]>>,
    metrics: OnceLock<Metrics>,
    scaler: OnceLock<ScalerFont>,
    outlines: OnceLock<Box<[OnceLock<DrawnGlyph>]>>,
}

/// An outline and its box, which is asked for wherever the glyph stands; `None` for a blank.
struct DrawnGlyph {
    outline: Path,
    bounds: Option<Rect>,
    simple: OnceLock<bool>,
}

/// Heights in ems, up positive, measured off the outlines where the font has the letters (H, x, d, p).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Metrics {
    pub cap_height: f64,
    pub x_height: f64,
    /// The top of `d`; the declared ascent where there is none.
    pub ascender: f64,
    /// The foot of `p`, positive below the baseline.
    pub descender: f64,
}

/// What OpenType's `OS/2.fsType` allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Embedding {
    /// Bit 1 set alone: no embedding without the maker's leave.
    pub restricted: bool,
    /// Bit 8: embed whole.
    pub no_subset: bool,
    /// Bit 9: bitmaps only.
    pub bitmap_only: bool,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FontFault(pub String);

/// Faces of a collection.
const FACES: u32 = 256;

impl Font {
    /// The faces of a file: one, or those of a collection.
    pub fn open(bytes: &Blob) -> Result<Vec<Font>, FontFault> {
        let fault = |why: &str| Err(FontFault(why.to_owned()));
        match bytes.get(..4) {
            Some(b"wOFF" | b"wOF2") => return fault("is a web font; convert it to TrueType or OpenType"),
            Some([0, 1, 0, 0] | b"OTTO" | b"true" | b"ttcf") => {}
            _ => return fault("is not a TrueType or OpenType font"),
        }
        let Some(format) = skrifa::font::Format::new(bytes) else {
            return fault("is not a TrueType or OpenType font");
        };
        if !(1..=FACES).contains(&format.num_fonts()) {
            return Err(FontFault(format!("holds {} faces; it may hold 1 to {FACES}", format.num_fonts())));
        }
        (0..format.num_fonts()).map(|index| Font::read(bytes, index)).collect()
    }

    fn read(bytes: &Blob, index: u32) -> Result<Font, FontFault> {
        let fault = |why: &str| FontFault(why.to_owned());
        let face = Font::sound(bytes, index)?;
        if !face.charmap().has_unicode() {
            return Err(fault("maps no Unicode letters to glyphs"));
        }
        let named = |ids: &[u16]| ids.iter().find_map(|id| name(&face, *id));
        let family = named(&[16, 1]).ok_or_else(|| fault("has no family name"))?;
        // A variable font's file is named for its form; its family is not.
        let family = match family.strip_suffix(" Variable").or_else(|| family.strip_suffix(" VF")) {
            Some(plain) if !face.axes().is_empty() => plain.to_owned(),
            _ => family,
        };
        let postscript = named(&[6]).unwrap_or_else(|| family.replace(' ', ""));
        Ok(Font::of((bytes, index), face, postscript, family))
    }

    /// A face whose tables are there and whose glyphs have outlines.
    fn sound(bytes: &Blob, index: u32) -> Result<skrifa::Font, FontFault> {
        let fault = |why: &str| FontFault(why.to_owned());
        let directory = FontRef::from_index(bytes, index).map_err(|_| fault("is cut short or damaged"))?;
        for record in directory.table_directory().table_records() {
            let end = record.offset() as usize + record.length() as usize;
            if end > bytes.len() {
                return Err(FontFault(format!("is cut short: its table {} lies beyond its end", record.tag())));
            }
        }
        let face = skrifa::Font::new(bytes.clone(), index).ok_or_else(|| fault("is cut short or damaged"))?;
        let tables = face.tables();
        if tables.head().is_err() || tables.hhea().is_err() || tables.maxp().is_err() || tables.hmtx().is_err() {
            return Err(fault("lacks a table that every font has (head, hhea, hmtx, maxp)"));
        }
        if face.outline_glyphs().source().is_none() || face.units_per_em() == 0 {
            return Err(fault("has no outlines"));
        }
        Ok(face)
    }

    fn of((bytes, index): (&Blob, u32), face: skrifa::Font, name: String, family: String) -> Font {
        let attributes = face.default_attributes();
        Font {
            name,
            family,
            weight: attributes.weight.value().round() as u16,
            italic: attributes.style != skrifa::font::attribute::Style::Normal,
            bytes: bytes.clone(),
            index,
            coordinates: Vec::new(),
            face,
            digest: OnceLock::new(),
            features: OnceLock::new(),
            metrics: OnceLock::new(),
            scaler: OnceLock::new(),
            outlines: OnceLock::new(),
        }
    }

    /// PostScript name.
    pub fn name(&self) -> &str {
        &self.name
    }
    pub fn family(&self) -> &str {
        &self.family
    }
    pub fn weight(&self) -> u16 {
        self.weight
    }
    pub fn italic(&self) -> bool {
        self.italic
    }
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }
    /// The face's place in a collection.
    pub fn index(&self) -> u32 {
        self.index
    }
    /// Axis tags and user coordinates of a variable font; empty for a static one.
    pub fn coordinates(&self) -> &[AxisPlace] {
        &self.coordinates
    }
    /// The face as the shaper wants it.
    pub fn face(&self) -> &skrifa::Font {
        &self.face
    }
    pub fn units_per_em(&self) -> u16 {
        self.face.units_per_em()
    }
    /// Names bytes, index and coordinates.
    pub fn digest(&self) -> Digest {
        *self.digest.get_or_init(|| {
            let mut place = self.index.to_le_bytes().to_vec();
            for (tag, value) in &self.coordinates {
                place.extend(tag);
                place.extend(value.to_le_bytes());
            }
            Digest::of_all(&[&self.bytes, &place])
        })
    }
    pub fn embedding(&self) -> Embedding {
        let bits = self.face.tables().os2().map_or(0, |os2| os2.fs_type());
        Embedding { restricted: bits & 0xF == 2, no_subset: bits & 0x100 != 0, bitmap_only: bits & 0x200 != 0 }
    }
    pub fn glyph(&self, letter: char) -> Option<u16> {
        let glyph = self.face.charmap().map_unicode(letter)?;
        u16::try_from(glyph.to_u32()).ok().filter(|glyph| *glyph != 0)
    }
    /// Whether it substitutes or places glyphs for an OpenType feature.
    pub fn has_feature(&self, tag: [u8; 4]) -> bool {
        self.features().contains(&tag)
    }
    /// The tags of its OpenType features, sorted.
    pub fn features(&self) -> &[[u8; 4]] {
        self.features.get_or_init(|| {
            let tables = self.face.tables();
            let lists = [
                tables.gsub().and_then(|gsub| gsub.feature_list()),
                tables.gpos().and_then(|gpos| gpos.feature_list()),
            ];
            let records = lists.iter().flatten().flat_map(|list| list.feature_records().iter());
            let mut tags: Vec<[u8; 4]> = records.map(|record| record.feature_tag().to_be_bytes()).collect();
            tags.sort_unstable();
            tags.dedup();
            tags
        })
    }
    /// In ems.
    pub fn advance(&self, glyph: u16) -> f64 {
        f64::from(self.face.glyph_metrics().h_advance(GlyphId::from(glyph))) / f64::from(self.units_per_em())
    }
    pub fn metrics(&self) -> &Metrics {
        self.metrics.get_or_init(|| self.measure())
    }
    /// One unit an em, y down, the glyph's origin at (0, 0). Empty for a blank, and for a glyph the font lacks.
    pub fn outline(&self, glyph: u16) -> &Path {
        static BLANK: LazyLock<Path> = LazyLock::new(Path::new);
        self.drawn(glyph).map_or(&BLANK, |drawn| &drawn.outline)
    }
    /// The box of the outline; `None` for a blank.
    pub fn glyph_bounds(&self, glyph: u16) -> Option<Rect> {
        self.drawn(glyph)?.bounds
    }

    /// What `ask` once said of the outline: whether it is a simple one, which nothing that places it changes.
    pub fn is_simple(&self, glyph: u16, ask: impl FnOnce(&Path) -> bool) -> bool {
        self.drawn(glyph).is_some_and(|drawn| *drawn.simple.get_or_init(|| ask(&drawn.outline)))
    }

    fn drawn(&self, glyph: u16) -> Option<&DrawnGlyph> {
        let outlines = self.outlines.get_or_init(|| (0..self.face.num_glyphs()).map(|_| OnceLock::new()).collect());
        let drawn = || {
            let outline = self.draw(glyph);
            let bounds = (!outline.elements().is_empty()).then(|| outline.bounding_box());
            DrawnGlyph { outline, bounds, simple: OnceLock::new() }
        };
        outlines.get(usize::from(glyph)).map(|slot| slot.get_or_init(drawn))
    }

    fn draw(&self, glyph: u16) -> Path {
        let scaler = self.scaler.get_or_init(|| ScalerFont::unhinted(self.face.clone(), None));
        let mut sink = Sink::default();
        let drawn = scaler.outline(GlyphId::from(glyph)).map(|outline| outline.draw(DrawMemory::Scratch, &mut sink));
        let Some(outline) = sink.outline().filter(|_| matches!(drawn, Some(Ok(_)))) else { return Path::new() };
        let em = f64::from(self.units_per_em());
        Affine::scale_non_uniform(1.0 / em, -1.0 / em) * outline
    }

    fn measure(&self) -> Metrics {
        let bounds = |letter: char| self.glyph(letter).and_then(|glyph| self.glyph_bounds(glyph));
        let top = |letter: char| bounds(letter).map(|bounds| -bounds.y0);
        let declared =
            self.face.tables().hhea().map_or((0, 0), |hhea| (hhea.ascender().to_i16(), hhea.descender().to_i16()));
        let em = f64::from(self.units_per_em());
        let ascender = top('d').unwrap_or(f64::from(declared.0) / em);
        Metrics {
            cap_height: top('H').unwrap_or(ascender),
            x_height: top('x').unwrap_or(ascender * 0.65),
            ascender,
            descender: bounds('p').map_or(-f64::from(declared.1) / em, |bounds| bounds.y1),
        }
    }
}

/// Bytes that several faces share.
pub fn shared(bytes: Arc<[u8]>) -> Blob {
    Blob::Shared(Arc::new(bytes))
}

fn name(face: &skrifa::Font, id: u16) -> Option<String> {
    let name = face.names().get(NameId::new(id))?.english_or_first()?;
    let text: String = name.name().chars().filter(|letter| !letter.is_control()).collect();
    (!text.trim().is_empty()).then(|| text.trim().to_owned())
}

impl std::fmt::Debug for Font {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)
    }
}
