//! Runs of words: the fonts inside the file, whose glyphs are outlines.

use crate::assets::{Font, shared};
use crate::ground::Path;
use crate::returned::functions::word;
use hayro_syntax::object::{Array, Dict, Object, Stream};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A font whose strings are glyphs of two bytes each.
pub struct ReadFont {
    font: Font,
    /// The glyph of a number; `None`: the number itself.
    glyphs: Option<Vec<u8>>,
    /// Thousandths of an em.
    widths: BTreeMap<u16, f64>,
    usual: f64,
}

impl ReadFont {
    pub fn read(dict: &Dict<'_>) -> Result<ReadFont, String> {
        let name = word(dict, "BaseFont").unwrap_or_else(|| "without a name".to_owned());
        let undrawn = |why: &str| Err(format!("words in the font {name}, {why}"));
        if word(dict, "Subtype").as_deref() != Some("Type0") || word(dict, "Encoding").as_deref() != Some("Identity-H")
        {
            return undrawn("whose letters are numbered in a way that is not read");
        }
        let Some(own) = dict.get::<Array<'_>>("DescendantFonts").and_then(|all| all.iter::<Dict<'_>>().next()) else {
            return undrawn("which is damaged");
        };
        let file = own.get::<Dict<'_>>("FontDescriptor").and_then(|described| described.get::<Stream<'_>>("FontFile2"));
        let Some(bytes) = file.and_then(|file| file.decoded_data().map(|bytes| bytes.to_vec()).ok()) else {
            return undrawn("which is not inside the file as TrueType");
        };
        let Some(font) = Font::open_part(&shared(Arc::from(bytes)), &name).ok() else {
            return undrawn("which cannot be opened");
        };
        let glyphs = match own.get::<Object<'_>>("CIDToGIDMap") {
            Some(Object::Stream(map)) => map.decoded_data().ok().map(|map| map.to_vec()),
            _ => None,
        };
        let usual = own.get::<f64>("DW").unwrap_or(1000.0);
        Ok(ReadFont { font, glyphs, widths: widths(&own), usual })
    }

    /// A glyph by its number, in ems, y down.
    pub fn outline(&self, code: u16) -> &Path {
        let at = usize::from(code) * 2;
        let mapped = |map: &Vec<u8>| map.get(at..at + 2).map_or(0, |pair| u16::from_be_bytes([pair[0], pair[1]]));
        self.font.outline(self.glyphs.as_ref().map_or(code, mapped))
    }

    /// In ems.
    pub fn width(&self, code: u16) -> f64 {
        self.widths.get(&code).copied().unwrap_or(self.usual) / 1000.0
    }
}

/// `W`: a number and the widths from there on, or two numbers and the width of all between (ISO 32000-1, 9.7.4.3).
fn widths(own: &Dict<'_>) -> BTreeMap<u16, f64> {
    let mut widths = BTreeMap::new();
    let Some(all) = own.get::<Array<'_>>("W") else { return widths };
    let mut pending: Vec<f64> = Vec::new();
    for object in all.iter::<Object<'_>>() {
        if let (Object::Array(list), Some(first)) = (&object, pending.pop()) {
            let stated = list.iter::<f64>().enumerate();
            widths.extend(stated.map(|(at, width)| ((first as u16).saturating_add(at as u16), width)));
            pending.clear();
            continue;
        }
        pending.extend(crate::printed::number_of(&object));
        if let [first, last, width] = pending[..] {
            widths.extend((first as u16..=last as u16).map(|code| (code, width)));
            pending.clear();
        }
    }
    widths
}
