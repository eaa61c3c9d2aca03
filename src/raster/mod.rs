//! Scene to pixels, composed in ink.

mod brush;
mod canvas;
mod compose;
mod glyphs;
mod layer;
mod look;
mod marks;
mod pictures;
mod plates;
mod reach;
mod resample;
mod row;
mod screen;
mod stamp;
mod taps;
mod tiles;
mod total;
#[cfg(test)]
pub mod trial;
mod window;

pub use plates::plates;
pub use screen::{Screen, screen};

#[cfg(test)]
pub use plates::Plates;
