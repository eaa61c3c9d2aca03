//! An approval that does not say yet what it holds.
//!
//! The way out shows the figures and letters of the words, the place and the look as they are now. Copy those that were
//! approved; from then on a change of them is reported.
//!
//! Always a note.
//!
//! ```kdl
//! panel front {
//!     text title words="{title}" { approved by="Mirela Anand"; left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: write `words=`, `place=` or `look=` as the message has them, or take the approval out.
