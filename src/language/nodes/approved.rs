//! `approved`: what somebody has approved, so that a later change is reported.
//!
//! ```kdl
//! panel back {
//!     text blurb words="A novel of the sea." {
//!         approved words="5a0c9be1" by="Mirela Anand, 2 May 2026"
//!         left safe; right safe; top safe 20
//!     }
//! }
//! ```
//!
//! - In an element it is about that element and whatever is inside it, in a panel about all that stands there, at the top of
//!   a file about the whole cover.
//! - `words=` is the copy, letter by letter; `place=` is where everything stands, measured from the corner of its panel, so
//!   that another spine moves nothing; `look=` is everything drawn: type, line breaks, inks, pictures. State those that were
//!   approved: an author approves words, a publisher all three.
//! - To approve, write `approved by="…"` alone: `approval-open` gives the eight letters and figures of all three. Copy those
//!   that you want to hold.
//! - When one of them is no longer the same, `changed-since-approval` says which, and what to write once it is approved again.

use crate::language::headword::{Headword, Role};
use crate::source::{Word, text};

pub const HEADWORD: Headword = Headword::new(APPROVED, include_str!("approved.rs"), Role::Holder);

pub const APPROVED: Word = Word::new("approved", "what somebody has approved, so that a later change is reported")
    .properties(&[BY, WORDS, PLACE, LOOK]);
pub const BY: Word = Word::new("by", "who has approved it, and when").takes(&[text("a name")]);
pub const WORDS: Word = Word::new("words", "the copy as it was approved").takes(&[text("eight letters and figures")]);
pub const PLACE: Word =
    Word::new("place", "where everything stood when it was approved").takes(&[text("eight letters and figures")]);
pub const LOOK: Word =
    Word::new("look", "what was drawn when it was approved").takes(&[text("eight letters and figures")]);
