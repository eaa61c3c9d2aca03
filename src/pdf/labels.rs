//! Labels: a few words beside the sheet, as outlines of a bundled face.

use crate::assets::{Font, Library};
use crate::ground::{Affine, MM_PER_PT, Path};
use std::sync::{Arc, LazyLock};

const FAMILY: &str = "Libre Franklin";
/// Type sizes, in millimetres: the job line's, and that beside a mark.
pub const LINE: f64 = 6.0 * MM_PER_PT;
pub const NOTE: f64 = 5.0 * MM_PER_PT;
/// Small type in one ink wants air.
const TRACKING: f64 = 0.02;

static FACE: LazyLock<Option<Arc<Font>>> = LazyLock::new(|| Library::open(&[]).0.find(FAMILY, 400, false));

/// Words from (0, 0) on a baseline, y down, and how wide they are; millimetres. What the face lacks is left out.
pub fn label(size: f64, text: &str) -> (Path, f64) {
    let mut path = Path::new();
    let mut x = 0.0;
    let Some(face) = FACE.as_ref() else { return (path, x) };
    for letter in text.chars() {
        let Some(glyph) = face.glyph(letter) else { continue };
        let place = Affine::new([size, 0.0, 0.0, size, x, 0.0]);
        path.extend((place * face.outline(glyph).clone()).elements().iter().copied());
        x += (face.advance(glyph) + TRACKING) * size;
    }
    (path, x)
}

/// How high its capitals stand.
pub fn cap_height(size: f64) -> f64 {
    FACE.as_ref().map_or(0.7, |face| face.metrics().cap_height) * size
}

pub fn width(size: f64, text: &str) -> f64 {
    let advance = |letter| {
        let face = FACE.as_ref()?;
        face.glyph(letter).map(|glyph| (face.advance(glyph) + TRACKING) * size)
    };
    text.chars().filter_map(advance).sum()
}
