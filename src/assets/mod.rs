//! Bytes from outside: files, fonts, pictures, drawings, profiles.

mod bundled;
mod darkness;
mod darkroom;
mod decode;
mod difference;
mod drawing;
mod font;
mod glyph;
mod keep;
mod library;
mod picture;
mod profile;
mod shelf;
mod work;

pub use darkroom::{Art, Darkroom};
pub use difference::difference;
pub use drawing::{Drawing, Drawn, Tint};
pub use font::{Font, FontFault};
pub use glyph::Glyph;
pub use keep::Keep;
pub use library::Library;
pub use picture::{Format, JpegStream, Model, Picture, PictureFault, Pixels};
pub use profile::{Profile, ProfileFault};
pub use shelf::{FILE_LIMIT, MapShelf, Shelf, ShelfFault, nearest, tidy};
pub use work::{Tally, Work};
