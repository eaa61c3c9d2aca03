//! From a scene to the bytes of files. An output is one file here and one entry in the list below.

#[cfg(test)]
mod agreement;
mod composed;
mod drifted;
mod entry;
mod fewer;
mod flat;
mod front_file;
mod group_view;
mod light;
mod marked;
mod on_screen;
mod panels;
mod particulars;
mod plates;
mod png;
mod press;
mod proof;
mod series;
mod shop;
mod view;

pub use drifted::drifted;
pub use entry::{Output, OutputFile, OutputJob};
pub use flat::{flat_margins, flat_picture};
pub use group_view::BookGroup;
pub use particulars::{NotedFinding, NotedMeasure, Particulars};
pub use png::{png_file, screen_file};
pub use proof::{OUTPUT as PROOF, proof_sheets};
pub use series::{BookRow, TooLarge};
pub use view::view_picture;

/// Every output, in the order of writing.
pub const OUTPUTS: &[&Output] = &[
    &press::OUTPUT,
    &flat::OUTPUT,
    &panels::OUTPUT,
    &view::OUTPUT,
    &on_screen::OUTPUT,
    &shop::OUTPUT,
    &marked::OUTPUT,
    &proof::OUTPUT,
    &plates::OUTPUT,
];
