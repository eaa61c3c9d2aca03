//! Labels: a few words beside the sheet, as outlines of bundled faces.

use crate::assets::{Font, Library};
use crate::ground::{Affine, MM_PER_PT, Path};
use std::sync::{Arc, LazyLock};

/// The second lends letters that the first lacks. Neither is shaped: what needs shaping is left out.
const FAMILIES: [&str; 2] = ["Libre Franklin", "Inter"];
/// Type sizes, in millimetres: the job line's, and that beside a mark.
pub const LINE: f64 = 6.0 * MM_PER_PT;
pub const NOTE: f64 = 5.0 * MM_PER_PT;
/// Small type wants air.
const TRACKING: f64 = 0.02;

static FACES: LazyLock<Vec<Arc<Font>>> = LazyLock::new(|| {
    let library = Library::open(&[]).0;
    FAMILIES.iter().filter_map(|family| library.find(family, 400, false)).collect()
});

/// Words from (0, 0) on a baseline, y down, and how wide they are; millimetres.
pub fn label(size: f64, text: &str) -> (Path, f64) {
    let mut path = Path::new();
    let mut x = 0.0;
    for (face, glyph) in text.chars().filter_map(drawn) {
        let place = Affine::new([size, 0.0, 0.0, size, x, 0.0]);
        path.extend((place * face.outline(glyph).clone()).elements().iter().copied());
        x += (face.advance(glyph) + TRACKING) * size;
    }
    (path, x)
}

pub fn width(size: f64, text: &str) -> f64 {
    text.chars().filter_map(drawn).map(|(face, glyph)| (face.advance(glyph) + TRACKING) * size).sum()
}

/// How high capitals stand.
pub fn cap_height(size: f64) -> f64 {
    FACES.first().map_or(0.7, |face| face.metrics().cap_height) * size
}

fn drawn(letter: char) -> Option<(&'static Font, u16)> {
    FACES.iter().find_map(|face| Some((&**face, face.glyph(letter)?)))
}
