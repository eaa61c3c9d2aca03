//! Scene to PDF: the press file, PDF/X-4 on PDF 1.6.

mod content;
mod coverage;
mod draw;
mod fonts;
mod forme;
mod gradients;
mod inks;
mod intent;
mod labels;
mod layers;
mod marks;
mod metadata;
mod page;
mod paper;
mod pictures;
mod program;
mod saying;
mod squeeze;
mod text;

#[cfg(test)]
mod tests;

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
    page::write(scene, surround, darkroom)
}
