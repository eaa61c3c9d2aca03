//! Something in a cover file that is not understood.
//!
//! A word, property, swatch, style, font, fact or guide that does not exist; a value of another kind than was wanted; a
//! place that cannot be found; a file that a cover names and that is missing. Nothing unknown is skipped silently: a
//! misspelt word would otherwise be missing from the cover.
//!
//! An error; a warning where what was written does nothing here, such as the flap of a format without flaps. The message
//! names the place, and where something is near to what was written, offers it.
//!
//! ```kdl
//! panel front {
//!     text title words="{titel}" { left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: as the message says; `jaconet explain WORD` prints the page of each word.
