//! What tests and measurements may ask of a cover; no part of the product.

mod drawn;
mod rehearsal;
mod tabled;
mod tidied;
mod tried;

pub use drawn::{DrawnPlates, draw_plates};
pub use rehearsal::Rehearsal;
pub use tabled::{Tabled, tabled};
pub use tidied::tidied_text;
pub use tried::{Noted, Trial, Tried, language, rules};

pub use crate::assets::Glyph;
pub use crate::disk::Store;
pub use crate::ground::{Digest, Rect};
pub use crate::scene::{Item, Mark, Origin, Scene};
