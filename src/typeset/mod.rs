//! Words become placed glyphs.

mod block;
mod chances;
mod copy;
mod drop_cap;
mod fit;
#[cfg(test)]
mod frog_king;
mod hang;
mod hyphen;
mod itemise;
mod layout;
mod lines;
mod measure;
mod memo;
mod place;
mod shape;
mod style;

pub use block::{Block, Line, Overmatter, Run};
pub use copy::{Copy, Paragraph, Words};
pub use memo::{Room, Typesetter, Unset};
pub use style::{Align, Case, DropCap, Hyphenation, Size, Style};
