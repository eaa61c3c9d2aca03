//! Drawing: an SVG file as paths. This folder is the one door to the SVG reader.

mod allowance;
mod along;
mod bounds;
mod clip;
mod cost;
mod cut;
mod doctype;
mod edited;
mod effort;
mod entities;
#[cfg(test)]
mod entities_tests;
mod faces;
mod families;
mod gone;
mod group;
mod handed;
mod important;
mod laid;
mod letters;
mod line_height;
mod linked;
mod markup;
mod mask;
mod mixing;
mod node_weight;
mod outlines;
mod part;
mod pictures;
mod pixels;
mod read;
mod reference;
mod remark;
mod resolution;
mod shown;
mod spaces;
mod spelled;
mod spread;
mod stated;
mod style;
mod sweep;
mod taken;
mod taken_in;
mod text;
mod tiles;
mod trace;
mod transform;
mod unheard;
mod unread;
mod wash;

pub use part::{Drawing, DrawingPart, Tint};
pub use pictures::{DrawnFrom, FilesBeside};
pub use pixels::PixelView;
pub use remark::DrawingRemark;
pub use resolution::{EffectBudget, EffectPlan};
pub use spread::WASH_STEPS;

#[cfg(test)]
use crate::assets::Library;
use crate::assets::guard::guarded;
use crate::assets::{PictureFault, decode};
use std::collections::BTreeSet;

impl Drawing {
    /// Whether the bytes look like SVG (text that begins with `<svg`, an XML head, a comment or a doctype).
    pub fn is_drawing(bytes: &[u8]) -> bool {
        let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes).trim_ascii_start();
        [&b"<svg"[..], b"<?xml", b"<!--", b"<!DOCTYPE"].iter().any(|head| text.starts_with(head))
    }

    /// Whether its text may make it another drawing with other fonts.
    pub fn may_have_text(bytes: &[u8]) -> bool {
        const TEXT: &[u8] = b"text";
        bytes.windows(TEXT.len()).any(|found| found == TEXT)
    }

    /// Paths of the pictures that it shows and does not hold, as it writes them.
    pub fn linked(bytes: &[u8]) -> BTreeSet<String> {
        guarded(|| linked::linked(bytes)).unwrap_or_default()
    }

    pub fn open(name: &str, bytes: &[u8], beside: DrawnFrom<'_>) -> Result<Drawing, PictureFault> {
        decode::agreed(name, "SVG", "svg")?;
        let gives_up =
            || decode::fault("the SVG cannot be read: its reader cannot make sense of it", "save it as plain SVG");
        guarded(|| read::read(name, bytes, beside)).unwrap_or_else(|| Err(gives_up()))
    }
}

#[cfg(test)]
mod effect_parts;
#[cfg(test)]
mod effects;
#[cfg(test)]
mod hostile;
#[cfg(test)]
mod lettering;
#[cfg(test)]
mod much_text;
#[cfg(test)]
mod set_otherwise;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod within;

/// With the bundled fonts.
#[cfg(test)]
fn open(name: &str, bytes: &[u8]) -> Result<Drawing, PictureFault> {
    static LIBRARY: std::sync::LazyLock<Library> = std::sync::LazyLock::new(|| Library::open(&[]).0);
    Drawing::open(name, bytes, DrawnFrom { library: &LIBRARY, files: &FilesBeside::new() })
}
