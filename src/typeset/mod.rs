//! Words become placed glyphs.

mod block;
mod case;
mod chances;
mod compose;
mod copy;
#[cfg(test)]
mod customs;
mod drop_cap;
mod fit;
#[cfg(test)]
mod frog_king;
#[cfg(test)]
mod geometry;
mod hang;
mod hyphen;
mod itemise;
#[cfg(test)]
mod laws;
mod letters;
mod lines;
mod markdown;
#[cfg(test)]
mod markdown_tests;
mod measure;
mod place;
mod plan;
mod room;
mod ruler;
mod script;
mod shape;
mod spread;
mod stored;
mod style;
mod typesetter;

pub use block::Block;
pub use case::upper;
pub use copy::Copy;
pub use hyphen::{composed, is_combining_mark};
pub use letters::letters_middle;
pub use markdown::{mark_in, markdown};
pub use room::Room;
pub use style::{Align, Case, DropCap, Hyphenation, Leading, Size, Style};
pub use typesetter::{MOST_LETTERS, TYPESETTERS, Typesetter, Unset};

#[cfg(test)]
pub use block::BlockLine;
