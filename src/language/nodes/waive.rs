//! `waive`: a rule of the check that does not apply here, with the reason.
//!
//! ```kdl
//! panel front {
//!     text title words="{title}" style=title {
//!         waive outside-safe reason="the title touches the edge on purpose"
//!         left trim 1; right safe; top safe 20
//!     }
//! }
//! waive page-section reason="the printer adds a section of advertisements"
//! ```
//!
//! - In an element it holds for that element and whatever is inside it, in a panel for all findings on that panel, at the
//!   top of a file for the whole cover.
//! - The finding becomes a note that gives the reason, so that whoever reads the report knows of it; an error no longer
//!   keeps the press file back.
//! - A waiver that silences nothing is a note of its own, `waiver-unused`.
//! - Any rule of `docs/rules` that measures the finished cover can be waived. Mistakes in the file, an estimated extent and
//!   placeholder copy cannot.

use crate::language::headword::{Headword, Role};
use crate::source::{Word, name, text};

pub const HEADWORD: Headword = Headword::new(WAIVE, include_str!("waive.rs"), Role::Holder);

pub const WAIVE: Word = Word::new("waive", "a rule of the check that does not apply here")
    .takes(&[name("a rule, such as outside-safe")])
    .properties(&[REASON]);
pub const REASON: Word = Word::new("reason", "why not, for whoever reads the report").takes(&[text("a reason")]);
