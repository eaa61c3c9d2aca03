//! PDFs that came back from a printer, drawn to plates from their own content and held against the one that was sent.

mod byte_budget;
mod clips;
mod colours;
mod compared;
mod drawn;
mod forms;
mod functions;
mod keys;
mod masks;
mod operators;
mod photos;
mod placed_photos;
mod runs;
mod shadings;
mod state;
mod tables;
mod text_steps;

pub use compared::{PlatesCompared, compare_plates};
#[cfg(any(test, feature = "testing"))]
pub use drawn::drawn_page;
