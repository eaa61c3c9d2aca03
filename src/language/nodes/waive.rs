//! `waive`: a rule of the check that does not apply here, with the reason.
//!
//! ```kdl
//! panel front {
//!     text title words="{title}" style=title {
//!         waive outside-safe reason="the title touches the edge on purpose"
//!         left trim 1; right safe; top safe 20
//!     }
//! }
//! waive page-section until=3 reason="the printer adds a section of advertisements"
//! ```
//!
//! - In an element it holds for that element and whatever is inside it, in a panel for all findings on that panel, at the
//!   top of a file for the whole cover.
//! - The finding becomes a note that gives the reason, so that whoever reads the report knows of it; an error no longer
//!   keeps the press file back.
//! - `until=` is the last version of the book for which it holds, or the last day (`until="2027-03-31"`) by the date that the
//!   version states. Afterwards the rule is asked again, and `waiver-ended` says so. Without it a waiver does not end.
//! - A waiver that silences nothing is a note of its own, `waiver-unused`.
//! - Any rule of `docs/rules` that measures the finished cover can be waived, but for those without which the file would be
//!   false: `missing-glyph`, `font-embedding` and `spot-names`. Mistakes in the file, an estimated extent and placeholder
//!   copy cannot be waived either.

use crate::language::headword::{Headword, Role};
use crate::source::{Word, name, text, whole};

pub const HEADWORD: Headword = Headword::new(WAIVE, include_str!("waive.rs"), Role::Holder);

pub const WAIVE: Word = Word::new("waive", "a rule of the check that does not apply here")
    .takes(&[name("a rule, such as outside-safe")])
    .properties(&[REASON, UNTIL]);
pub const REASON: Word = Word::new("reason", "why not, for whoever reads the report").takes(&[text("a reason")]);
pub const UNTIL: Word = Word::new("until", "the last version, or the last day as YYYY-MM-DD, for which it holds")
    .takes(&[whole("a version number", 0.0, 1e6)])
    .or(&[text("a day such as \"2027-03-31\"")]);
