//! Words become placed glyphs.

mod apart;
#[cfg(test)]
mod bidi_tests;
mod block;
mod case;
mod chances;
mod clean;
mod columns;
mod compose;
mod copy;
#[cfg(test)]
mod customs;
mod drop_cap;
mod each_line;
mod edges;
mod even;
#[cfg(test)]
mod evidence;
mod extra_lines;
mod fit;
#[cfg(test)]
mod frog_king;
#[cfg(test)]
mod geometry;
mod hang;
mod holes;
mod hyphen;
mod indents;
mod itemise;
mod japanese;
mod lacking;
#[cfg(test)]
mod laws;
mod letters;
#[cfg(test)]
mod line_break_tests;
mod lines;
#[cfg(test)]
mod margins;
mod markdown;
#[cfg(test)]
mod markdown_tests;
mod marks;
mod measure;
mod optical;
mod pattern_file;
mod place;
mod plan;
mod profile;
mod room;
mod ruler;
mod script;
mod shape;
mod shaped;
mod signs;
mod small_words;
mod sought;
mod spread;
mod stance;
mod stored;
mod style;
mod text_run;
mod touch;
mod typesetter;
mod upright;

pub use block::{Block, Lack, TextRun};
pub use case::upper;
pub use copy::Copy;
pub use holes::{Beside, Hole, Holes};
pub use hyphen::lacks_patterns;
pub use lacking::lacking;
pub use letters::{letters_middle, letters_reach};
pub use markdown::{mark_in, markdown};
pub use marks::{composed, is_combining_mark, unaccented};
pub use optical::OPTICAL_SIZE;
pub use pattern_file::PatternFile;
pub use room::Room;
pub use signs::{Signs, SignsSet, set_signs};
pub use stance::has_upright;
pub use style::{Align, Capitals, Case, Columns, DropCap, Edges, Hyphenation, Leading, SetApart, Size, Style};
pub use typesetter::{MOST_LETTERS, TYPESETTERS, Typesetter, Unset};

#[cfg(test)]
pub use block::BlockLine;
#[cfg(any(test, feature = "testing"))]
pub use {
    script::Script,
    shape::{Cut, ScriptRun, Shaper},
    stance::Stance,
};
