//! Bytes from outside: files, fonts, pictures, drawings, profiles.

mod alpha_sides;
mod axis;
mod bundled;
#[cfg(test)]
mod damage;
mod darkness;
mod darkroom;
mod decode;
mod difference;
mod drawing;
mod encode;
mod font;
mod font_files;
mod glyph;
mod guard;
mod ink_jpeg;
mod ink_lights;
mod ink_rows;
mod keep;
mod late_pixels;
mod library;
mod light_scale;
mod map_shelf;
mod picture;
mod picture_file;
mod pixels;
mod profile;
mod separation;
mod shelf;
mod spoken;
mod stated_colours;
mod tones;
mod work;

pub use alpha_sides::AlphaSides;
pub use axis::FontAxis;
pub use darkroom::{Art, Darkroom};
pub use difference::difference;
pub use drawing::{
    Drawing, DrawingPart, DrawingRemark, DrawnFrom, EffectBudget, EffectPlan, FilesBeside, PixelView, Tint, WASH_STEPS,
};
pub use encode::{JpegWeight, LEAST_QUALITY, ScreenPixels};
pub use font::{BareCff, Font, FontFault, shared};
pub use font_files::{NamedBytes, font_files};
pub use glyph::{Glyph, RunEnd, Sequence};
pub use ink_jpeg::ink_jpeg;
pub use ink_lights::InkLights;
pub use keep::Keep;
pub use library::Library;
pub use light_scale::LightScale;
pub use map_shelf::MapShelf;
pub use picture::Picture;
use pixels::eight;
pub use pixels::{JpegStream, Model, PictureFault, PictureFormat, Pixels};
pub use profile::{Profile, ProfileFault, srgb_profile};
pub use separation::{Inking, RenderingIntent, Separation};
pub use shelf::{
    FILE_LIMIT, Glance, KDL_LIMIT, Shelf, ShelfFault, TABLE_LIMIT, is_cover, listing, nearest, offer, tidy, too_large,
};
pub use stated_colours::{Primaries, StatedColours};
pub use tones::{PicturePlate, TonedInk, Tones};
pub use work::{Tally, Work};
