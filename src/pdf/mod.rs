//! Scene to PDF: the press file, PDF/X-4 on PDF 1.6; and pages of our own making, for documents to be read.

mod actual_text;
mod boxes;
mod content;
mod coverage;
mod document;
mod draw;
mod font_program;
mod fonts;
mod forme;
mod gradients;
mod inks;
mod intent;
mod labels;
mod layers;
mod metadata;
mod page;
mod page_font;
mod paths;
mod pictures;
mod plane;
mod printers_marks;
mod registry;
mod samples;
mod text;
mod word_over_runs;

#[cfg(test)]
mod tests;

use crate::assets::Darkroom;
use crate::scene::Scene;

pub use crate::scene::Surround;
pub use document::{DocumentLayer, DocumentPage, DocumentPicture, document};

/// The press file: PDF/X-4.
pub fn write(scene: &Scene, surround: Surround, darkroom: &Darkroom) -> Vec<u8> {
    page::write(scene, surround, darkroom)
}
