//! Drawing: an SVG file as paths. This folder is the one door to the SVG reader.

mod allowance;
mod bounds;
mod clip;
mod cost;
mod effort;
mod group;
mod heft;
mod important;
mod markup;
mod mask;
mod part;
mod pixels;
mod read;
mod resolution;
mod spread;
mod style;
mod sweep;
mod tiles;
mod trace;
mod unread;
mod wash;

pub use part::{Drawing, DrawingPart, Tint};
pub use pixels::PixelView;
pub use resolution::{EffectBudget, EffectPlan};
pub use spread::WASH_STEPS;

use crate::assets::guard::guarded;
use crate::assets::{PictureFault, decode};

impl Drawing {
    /// Whether the bytes look like SVG (text that begins with `<svg`, an XML head, a comment or a doctype).
    pub fn is_drawing(bytes: &[u8]) -> bool {
        let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes).trim_ascii_start();
        [&b"<svg"[..], b"<?xml", b"<!--", b"<!DOCTYPE"].iter().any(|head| text.starts_with(head))
    }

    pub fn open(name: &str, bytes: &[u8]) -> Result<Drawing, PictureFault> {
        decode::agreed(name, "SVG", "svg")?;
        let gives_up =
            || decode::fault("the SVG cannot be read: its reader cannot make sense of it", "save it as plain SVG");
        guarded(|| read::read(name, bytes)).unwrap_or_else(|| Err(gives_up()))
    }
}

#[cfg(test)]
mod effects;
#[cfg(test)]
mod hostile;
#[cfg(test)]
mod tests;
