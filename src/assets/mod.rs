//! Bytes from outside: files, fonts, pictures, drawings, profiles.

mod bundled;
mod darkness;
mod darkroom;
mod decode;
mod difference;
mod drawing;
mod encode;
mod font;
mod glyph;
mod guard;
mod keep;
mod library;
#[cfg(any(test, feature = "testing"))]
mod map_shelf;
mod picture;
mod pixels;
mod profile;
mod shelf;
mod work;

pub use darkroom::{Art, Darkroom};
pub use difference::difference;
pub use drawing::{Drawing, DrawingPart, Tint};
pub use encode::{JpegWeight, LEAST_QUALITY, ScreenPixels};
pub use font::{Font, FontFault};
pub use glyph::{Glyph, RunEnd, Sequence};
pub use keep::Keep;
pub use library::Library;
#[cfg(any(test, feature = "testing"))]
pub use map_shelf::MapShelf;
pub use picture::Picture;
pub use pixels::{JpegStream, Model, PictureFault, PictureFormat, Pixels};
pub use profile::{Profile, ProfileFault, srgb_profile};
pub use shelf::{FILE_LIMIT, Shelf, ShelfFault, nearest, offer, tidy};
pub use work::{Tally, Work};
