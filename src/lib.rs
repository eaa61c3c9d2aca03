//! `jaconet` compiles a text description of a book cover to a press-ready PDF.
//!
//! The rooms in order; a room imports only from those above it.

mod ground;

mod assets;
mod source;

mod scene;
mod typeset;

mod cover;
mod pdf;
mod raster;

mod check;
mod output;

mod build;
mod compare;

mod cli;

pub use build::{Rehearsal, compare_findings};
pub use cli::command;

/// What tests may ask of a cover.
pub mod testing {
    pub use crate::assets::Glyph;
    pub use crate::build::{
        Noted, Sheet, Store, Tabled, Trial, Tried, draw_plates, language, rules, tabled, tidied_text,
    };
    pub use crate::ground::{Digest, Rect};
    pub use crate::scene::{Item, Mark, Origin, Scene};
}
