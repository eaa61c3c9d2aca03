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
mod opening;
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

pub use crate::scene::Surround;

/// The press file: PDF/X-4.
pub fn write(scene: &Scene, surround: Surround, darkroom: &Darkroom) -> Vec<u8> {
    page::write(scene, surround, darkroom)
}
