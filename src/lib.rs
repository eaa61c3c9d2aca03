//! `jaconet` compiles a text description of a book cover to a press-ready PDF.
//!
//! The rooms in order; a room imports only from those above it.

mod ground;

mod assets;
mod printed;
mod source;

mod scene;
mod typeset;

mod cover;
mod pdf;
mod raster;
mod view;

mod check;
mod language;
mod output;
mod returned;

mod disk;
mod record;

mod compare;
mod targets;

mod compile;
mod watch;

mod preview;

mod cli;

#[cfg(any(test, feature = "testing"))]
pub mod testing;

pub use cli::{command, vocabulary, words_at};
pub use source::{Besides, KnownBy, Laid, Slot, Takes, Times, Unit, Word};
