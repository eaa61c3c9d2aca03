//! Scene to PDF.

use crate::assets::Darkroom;
use crate::scene::Scene;

/// What stands around the trim.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Surround {
    /// Bleed, then crop, fold and registration marks, colour bar and job line.
    #[default]
    Marks,
    /// Bleed alone: the page is the bleed box.
    Bleed,
    /// Neither: the page is the trim.
    Trim,
}

/// The press file: PDF/X-4.
pub fn write(scene: &Scene, surround: Surround, darkroom: &Darkroom) -> Vec<u8> {
    let _ = (scene, surround, darkroom);
    unimplemented!()
}
