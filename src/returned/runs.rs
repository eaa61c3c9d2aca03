//! Runs of words: the fonts inside the file, whose glyphs are outlines.

use crate::assets::{BareCff, Font, shared};
use crate::ground::Path;
use crate::returned::byte_budget::ByteBudget;
use crate::returned::functions::word;
use hayro_syntax::object::{Array, Dict, Object, Stream};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A font whose strings are glyphs of two bytes each.
pub struct ReadFont {
    font: Font,
    glyphs: GlyphNumbers,
    /// Thousandths of an em.
    widths: BTreeMap<u16, f64>,
    usual: f64,
}

/// How the numbers of a text become glyphs.
enum GlyphNumbers {
    Same,
    /// Two bytes a number.
    Table(Vec<u8>),
    Keyed(BTreeMap<u16, u16>),
}

impl ReadFont {
    pub fn read(dict: &Dict<'_>, budget: &mut ByteBudget) -> Result<ReadFont, String> {
        let name = word(dict, "BaseFont").unwrap_or_else(|| "without a name".to_owned());
        let undrawn = |why: &str| Err(format!("words in the font {name}, {why}"));
        if word(dict, "Subtype").as_deref() != Some("Type0") || word(dict, "Encoding").as_deref() != Some("Identity-H")
        {
            return undrawn("whose letters are numbered in a way that is not read");
        }
        let Some(own) = dict.get::<Array<'_>>("DescendantFonts").and_then(|all| all.iter::<Dict<'_>>().next()) else {
            return undrawn("which is damaged");
        };
        let program = own.get::<Dict<'_>>("FontDescriptor").and_then(|described| program(&described, budget));
        let Some((bytes, keyed)) = program else {
            return undrawn("which is not inside the file as TrueType or CFF");
        };
        let Ok(font) = Font::open_part(&shared(Arc::from(bytes)), &name) else {
            return undrawn("which cannot be opened");
        };
        let table = match own.get::<Object<'_>>("CIDToGIDMap") {
            Some(Object::Stream(map)) => match budget.decoded(&map) {
                Ok(map) => Some(map.to_vec()),
                Err(_) => return undrawn("whose glyphs are numbered in a way that is not read"),
            },
            _ => None,
        };
        let glyphs = match (keyed, table) {
            (Some(numbers), _) => GlyphNumbers::Keyed(numbers.into_iter().zip(0..).collect()),
            (None, Some(table)) => GlyphNumbers::Table(table),
            (None, None) => GlyphNumbers::Same,
        };
        let usual = own.get::<f64>("DW").unwrap_or(1000.0);
        let Some(widths) = widths(&own) else {
            return undrawn("whose widths are damaged, or more than there are glyphs");
        };
        Ok(ReadFont { font, glyphs, widths, usual })
    }

    /// A glyph by its number, in ems, y down.
    pub fn outline(&self, code: u16) -> &Path {
        let at = usize::from(code) * 2;
        self.font.outline(match &self.glyphs {
            GlyphNumbers::Same => code,
            GlyphNumbers::Table(table) => {
                table.get(at..at + 2).map_or(0, |pair| u16::from_be_bytes([pair[0], pair[1]]))
            }
            GlyphNumbers::Keyed(keyed) => keyed.get(&code).copied().unwrap_or(0),
        })
    }

    /// In ems.
    pub fn width(&self, code: u16) -> f64 {
        self.widths.get(&code).copied().unwrap_or(self.usual) / 1000.0
    }
}

/// The font's file, and by which numbers a text calls its glyphs, where these are not their places.
fn program(described: &Dict<'_>, budget: &mut ByteBudget) -> Option<(Vec<u8>, Option<Vec<u16>>)> {
    if let Some(file) = described.get::<Stream<'_>>("FontFile2") {
        return Some((budget.decoded(&file).ok()?.to_vec(), None));
    }
    let file = described
        .get::<Stream<'_>>("FontFile3")
        .filter(|file| word(file.dict(), "Subtype").as_deref() == Some("CIDFontType0C"))?;
    let bare = BareCff::read(&budget.decoded(&file).ok()?)?;
    Some((bare.file, bare.numbers))
}

/// Widths that are read, repeated ones too: there are no more numbers of glyphs.
const WIDTHS: usize = 1 << 16;

/// `W`: a number and the widths from there on, or two numbers and the width of all between (ISO 32000-1, 9.7.4.3).
fn widths(own: &Dict<'_>) -> Option<BTreeMap<u16, f64>> {
    let mut widths = BTreeMap::new();
    let Some(all) = own.get::<Array<'_>>("W") else { return Some(widths) };
    let (mut pending, mut read): (Vec<f64>, usize) = (Vec::new(), 0);
    for object in all.iter::<Object<'_>>() {
        let stated: Vec<(u16, f64)> = if let Object::Array(list) = &object {
            let [first] = pending[..] else { return None };
            let list = list.iter::<f64>().take(WIDTHS + 1).enumerate();
            list.map(|(at, width)| ((first as u16).saturating_add(at.min(WIDTHS) as u16), width)).collect()
        } else {
            pending.extend(crate::printed::number_of(&object));
            let [first, last, width] = pending[..] else { continue };
            (first as u16..=last as u16).map(|code| (code, width)).collect()
        };
        pending.clear();
        // An entry that names nothing counts as well.
        read += stated.len().max(1);
        if read > WIDTHS {
            return None;
        }
        widths.extend(stated);
    }
    Some(widths)
}
