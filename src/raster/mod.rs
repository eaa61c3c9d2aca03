//! Scene to pixels, composed in ink.

mod brush;
mod compose;
mod corners;
mod coverage;
mod fewer;
mod fewer_words;
mod finishes;
mod front;
mod glyphs;
mod grid;
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
mod row;
mod screen;
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
pub use plate_use::PlateUse;
pub use plates::{Plates, plates};
pub use screen::{Screen, ink_on_screen, screen};
pub use tiles::SheetGrid;
pub use window::Window;
