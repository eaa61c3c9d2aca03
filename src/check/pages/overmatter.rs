//! Words that do not fit the room they were given.
//!
//! The surplus is still drawn, over whatever is below it or off the panel, so that it is seen and not lost.
//! The message says by how many lines and millimetres. A word too long for its line is reported with
//! the millimetres that it is too wide by. A stack, or the items of an `each`, may be too long for their frame as well.
//!
//! Always an error.
//!
//! ```kdl
//! panel back {
//!     text blurb words="A novel of the sea, and of all who are on it." { left safe; width 20; top safe; height 8; size 14 }
//! }
//! ```
//!
//! Way out: fewer words, more room, or a size that finds itself: `size between 9 11`.
