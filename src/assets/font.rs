//! Font: a face, its metrics, its licence to embed.

use crate::ground::{Digest, Path, Rect};
use std::sync::Arc;

/// One face at one place of its design space.
pub struct Font {
    name: String,
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

impl Font {
    /// PostScript name.
    pub fn name(&self) -> &str {
        &self.name
    }
    pub fn family(&self) -> &str {
        unimplemented!()
    }
    pub fn weight(&self) -> u16 {
        unimplemented!()
    }
    pub fn italic(&self) -> bool {
        unimplemented!()
    }
    pub fn bytes(&self) -> &[u8] {
        unimplemented!()
    }
    /// The face's place in a collection.
    pub fn index(&self) -> u32 {
        unimplemented!()
    }
    /// Axis tags and user coordinates of a variable font; empty for a static one.
    pub fn coordinates(&self) -> &[([u8; 4], f32)] {
        unimplemented!()
    }
    /// Names bytes, index and coordinates.
    pub fn digest(&self) -> Digest {
        unimplemented!()
    }
    pub fn metrics(&self) -> &Metrics {
        unimplemented!()
    }
    pub fn embedding(&self) -> Embedding {
        unimplemented!()
    }
    pub fn glyph(&self, letter: char) -> Option<u16> {
        let _ = letter;
        unimplemented!()
    }
    /// In ems.
    pub fn advance(&self, glyph: u16) -> f64 {
        let _ = glyph;
        unimplemented!()
    }
    /// One unit an em, y down, the glyph's origin at (0, 0).
    pub fn outline(&self, glyph: u16) -> Path {
        let _ = glyph;
        unimplemented!()
    }
    /// The box of the outline; `None` for a blank.
    pub fn glyph_bounds(&self, glyph: u16) -> Option<Rect> {
        let _ = glyph;
        unimplemented!()
    }
}

impl std::fmt::Debug for Font {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)
    }
}

/// The faces a cover may use: the bundled ones and those of its `fonts/` folder; never the system's.
pub struct Library {
    faces: Vec<Arc<Font>>,
}

impl Library {
    /// The bundled faces, and what `project` adds (path and bytes). A file that is no font comes back as a fault.
    pub fn open(project: &[(String, Arc<[u8]>)]) -> (Library, Vec<(String, FontFault)>) {
        let _ = project;
        unimplemented!()
    }
    /// The face of a family nearest in weight, of the wanted slope if the family has it (check `Font::italic`).
    pub fn find(&self, family: &str, weight: u16, italic: bool) -> Option<Arc<Font>> {
        let _ = (family, weight, italic, &self.faces);
        unimplemented!()
    }
    /// Sorted, each once.
    pub fn families(&self) -> Vec<&str> {
        unimplemented!()
    }
}
