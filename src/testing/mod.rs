//! What tests and measurements may ask of a cover; no part of the product.

mod covers;
mod hyphens;
#[cfg(test)]
mod new_output;
mod plates;
mod rehearsal;
mod shaping;
#[cfg(test)]
mod spines;
mod tables;
mod tidy;
mod views;

pub use covers::{CoverTester, TestedCover, TestedFinding, language, limits, rules, topics};
pub use hyphens::parted_by;
pub use plates::{DrawnPlates, draw_pdf, draw_plates};
pub use rehearsal::Rehearsal;
pub use shaping::{AskedWord, PlacedGlyph, shape_word};
pub use tables::{TestedTable, read_table};
pub use tidy::tidied_text;
pub use views::{Taken, poses, taken};

pub use crate::assets::Glyph;
pub use crate::disk::Store;
pub use crate::ground::{Digest, Rect};
pub use crate::scene::{Item, Mark, Origin, PanelName, Scene};
