//! Scene to pixels, composed in ink.

mod brush;
mod compose;
mod corners;
mod coverage;
mod cut;
mod fewer;
mod fewer_words;
mod finishes;
mod front;
mod glyphs;
mod grid;
mod group_alpha;
mod hidden;
mod layer;
mod lightened;
mod marks;
mod misregister;
mod outline;
mod part;
mod pictures;
mod plate_shares;
mod plate_use;
mod plates;
mod raster_context;
mod reach;
mod resample;
#[cfg(test)]
mod resample_tests;
mod row;
mod row_taps;
mod sampled;
mod screen;
mod screen_tiles;
mod simple;
mod slabs;
mod spot_proof;
mod straight;
mod taps;
mod tiles;
mod total;
#[cfg(test)]
pub mod trial;
mod window;
mod woven;

pub use fewer::{fewer_alpha, fewer_pixels};
pub use finishes::finished_sheet;
pub use front::{FrontPicture, front_picture};
pub use misregister::misregistered;
pub use part::SheetPart;
pub use plates::{Plates, plates};
pub use screen::ink_on_screen;
pub use screen_tiles::{Screen, ScreenTiles, screen};
pub use tiles::SheetGrid;
pub use window::Window;
