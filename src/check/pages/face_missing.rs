//! A family lacks what its words ask for: an italic, a bolder weight, small capitals, a feature.
//!
//! Letters are never slanted or thickened by force. What a family has not is left out, or, for small capitals, made of its
//! capitals; it is said here, so that it does not pass unseen.
//!
//! - emphasis, strong words or a feature that the family has not: warning. Small capitals made by scaling: note.
//!
//! ```kdl
//! panel back {
//!     text quote words="A quiet triumph" {
//!         left safe; right safe; top safe; font "League Gothic"; features "onum"
//!     }
//! }
//! ```
//!
//! Way out: another family, or words that do without.
