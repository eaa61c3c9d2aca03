//! Delivery: the kinds of files that a cover is delivered as, and how they are wanted.

use crate::assets::Darkroom;
use crate::pdf::Surround;
use crate::scene::Scene;

/// A kind of file that a cover can be delivered as. A scene is always printable, so writing cannot fail.
pub struct Output {
    pub name: &'static str,
    pub write: fn(&Scene, &Delivery, &Darkroom) -> Vec<OutputFile>,
}

/// One file, not yet on a disk: `STEM-suffix.extension`.
pub struct OutputFile {
    pub suffix: String,
    pub extension: &'static str,
    pub bytes: Vec<u8>,
}

/// How files are wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Delivery {
    /// Pixels per inch of the flat picture.
    pub flat_ppi: f64,
    /// Pixels per inch of the panels' pictures.
    pub panel_ppi: f64,
    pub surround: Surround,
}

impl Default for Delivery {
    fn default() -> Delivery {
        Delivery { flat_ppi: 200.0, panel_ppi: 200.0, surround: Surround::default() }
    }
}
