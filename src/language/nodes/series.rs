//! `series`: a tree laid under this cover: what the books of a series share is stated once, in a file of its own.
//!
//! ```kdl
//! series "series.kdl"
//! ```
//!
//! A series file is written like a cover; what it says holds for every cover that names it, until the cover says
//! otherwise. It may name a series of its own, and so on.
//!
//! - Sections (`book`, `format`, `swatches`, `type`, `levels`, `deliver`) merge word by word. A word that is stated again
//!   replaces the whole word: `pages 328` forgets the `state=` of the series, `swatch night k=80` its other inks; a word of
//!   `book` without its value adds to it: `pages state=estimated`, `title { short "Salt" }`. Words that make a list
//!   (`author`, `quote`, `price`, `paper`) are replaced as a list. A `press` that is stated again
//!   replaces all of it but its `text-plate`, which stays until it is stated again itself.
//! - Styles of one name merge word by word; elements of one kind and name in one panel merge, their properties one by one.
//!   An axis that the cover names is the cover's alone: after `top 40` nothing is left of the series' `bottom safe`.
//! - `drop NAME …`, wherever names stand, takes away what lies under: `drop subtitle` in `book`, `drop lamp` in `swatches`,
//!   `drop ribbon` in a panel, `drop drop-cap` in a text.
//! - What the cover adds lies on top of all that the series has in the panel; `under NAME` and `over NAME` put it in between.
//! - A path counts from the folder of the file that says it; fonts are looked for beside every file of the chain.
//! - One size of type for the titles of all books: `size between 24 60 alike=#true` in a style of the series file. It holds for
//!   the covers below the folder of that file, 200 at the most, and of a catalogue for all titles. Words that do not fit at
//!   all do not count, nor does a cover that cannot be read: a warning names it. The report says under `alike` what each
//!   would have had by itself, and which cover decided.
//! - A mistake is reported in the file that holds it. Series that refer to each other in a circle are an
//!   error.

use crate::language::headword::{Headword, Role};
use crate::source::{Word, text};

pub const HEADWORD: Headword = Headword::new(
    Word::new("series", "a file that is laid under this one").takes(&[text("a path")]),
    include_str!("series.rs"),
    Role::Holder,
);
