//! Scene to PDF: the press file, by the standard that is chosen; and pages of our own making, for documents to be read.

mod actual_text;
mod boxes;
mod colour_table;
mod composed;
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
mod press_page;
mod printers_marks;
mod samples;
mod splice;
mod text;
mod word_over_runs;

#[cfg(test)]
mod tests;

use crate::assets::Darkroom;
use crate::ground::Pieces;
use crate::scene::Scene;

pub use crate::scene::Surround;
pub use composed::ComposedPicture;
pub use document::{DocumentLayer, DocumentPage, DocumentPicture, document};
pub use press_page::PressPage;

/// The press file. A scene for a standard without transparency has none.
pub fn write(scene: &Scene, page: &PressPage<'_>, darkroom: &Darkroom) -> Pieces {
    page::write(scene, page, darkroom)
}
