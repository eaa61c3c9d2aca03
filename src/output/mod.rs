//! Scene to the bytes of files.

#[cfg(test)]
mod agreement;
mod delivery;
mod flat;
mod light;
mod panels;
mod png;
mod press;
mod rows;
mod series;

pub use delivery::{Delivery, Output, OutputFile};
pub use flat::flat_margins;
pub use png::png_file;
pub use series::{BookRow, TooLarge};

pub const OUTPUTS: &[&Output] = &[&press::OUTPUT, &flat::OUTPUT, &panels::OUTPUT];
