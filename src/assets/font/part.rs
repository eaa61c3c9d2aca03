//! Part: what a PDF holds of a font.

use crate::assets::font::{Font, FontFault};
use skrifa::font::Blob;

impl Font {
    /// What a PDF holds of a font: outlines by number, without names and letters.
    pub fn open_part(bytes: &Blob, name: &str) -> Result<Font, FontFault> {
        let face = Font::sound(bytes, 0)?;
        Ok(Font::of((bytes, 0), face, name.to_owned(), name.to_owned()))
    }
}
