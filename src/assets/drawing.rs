//! Drawing: an SVG file as paths, in millimetres of its own; colours still as the file says them.

use crate::ground::{Digest, FillRule, Line, Path};

pub struct Drawing {
    pub name: String,
    pub digest: Digest,
    /// Millimetres; an SVG pixel is 1/96 inch.
    pub width: f64,
    pub height: f64,
    pub nodes: Vec<Drawn>,
    /// What the file has that is not drawn: `a gradient`, `a filter`, `text`.
    pub left_out: Vec<String>,
}

#[derive(Clone, Debug)]
pub enum Drawn {
    Fill { path: Path, rule: FillRule, colour: Tint },
    Stroke { path: Path, line: Line, colour: Tint },
    Group { clip: Option<(Path, FillRule)>, opacity: f64, multiply: bool, nodes: Vec<Drawn> },
}

/// An sRGB colour and its opacity, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tint {
    pub rgb: [u8; 3],
    pub opacity: f64,
}

impl Drawing {
    /// Whether the bytes look like SVG (text that begins with `<svg`, an XML head, a comment or a doctype).
    pub fn is_drawing(bytes: &[u8]) -> bool {
        let _ = bytes;
        unimplemented!()
    }
    pub fn open(name: &str, bytes: &[u8]) -> Result<Drawing, crate::assets::PictureFault> {
        let _ = (name, bytes);
        unimplemented!()
    }
}

impl std::fmt::Debug for Drawing {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)
    }
}
