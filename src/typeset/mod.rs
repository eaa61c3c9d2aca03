//! Words become placed glyphs.

mod block;
mod chances;
mod copy;
mod drop_cap;
mod fit;
#[cfg(test)]
mod frog_king;
#[cfg(test)]
mod geometry;
mod hang;
mod hyphen;
mod itemise;
mod kept;
#[cfg(test)]
mod laws;
mod layout;
mod lines;
mod measure;
mod memo;
mod place;
mod ruler;
mod shape;
mod style;

pub use block::{Block, Overmatter, Run};
pub use copy::{Copy, Paragraph, Words};
pub use hyphen::{composed, is_combining_mark};
pub use memo::{Room, TYPESETTERS, Typesetter, Unset};
pub use style::{Align, Case, DropCap, Hyphenation, Size, Style};

#[cfg(test)]
pub use block::Line;
