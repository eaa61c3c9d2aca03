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
mod cli;

pub use build::{Rehearsal, Sheet, compare_findings, draw_plates};
pub use cli::command;
