//! Words become placed glyphs.

mod block;
mod copy;
mod memo;
mod style;

pub use block::{Block, Line, Overmatter, Run};
pub use copy::{Copy, Paragraph, Words};
pub use memo::{Room, Typesetter, Unset};
pub use style::{Align, Case, DropCap, Hyphenation, Size, Style};
