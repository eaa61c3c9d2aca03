//! `edition`: one binding or market of the book: what changes in it, laid over the cover.
//!
//! ```kdl
//! panel back { text blurb words="A novel of the sea." { left safe; right safe; top 40 } }
//! edition case {
//!     book { isbn "978-1-83742-601-0"; price GBP "22.00" }
//!     format case { board thickness=2.5 }
//!     panel back { drop blurb }                           // the jacket has it
//! }
//! ```
//!
//! Everything may stand in an edition that may stand in a cover, and is laid over it as a cover over its `series`; an
//! edition of the series and one of the same name in the cover are one. `jaconet build` makes the cover as it stands and
//! every edition, their files named `STEM-EDITION-press.pdf`; `--edition NAME` picks. A cover whose `format` stands only in
//! its editions has no files but theirs.
//!
//! ```kdl
//! edition us like=case { book { isbn "978-1-83742-602-7"; price USD "24.00" } }
//! ```
//!
//! `like=` begins with all that another edition says, and says what is other.

use crate::language::headword::{Headword, NAME, Role};
use crate::source::{Besides, KnownBy, Laid, Word};

const LIKE: Word = Word::new("like", "another edition that it begins as").takes(NAME);

pub const HEADWORD: Headword = Headword::new(
    Word::new("edition", "what changes in one binding or market of the book")
        .takes(NAME)
        .properties(&[LIKE])
        .besides(Besides::Everything)
        .known_by(KnownBy::Name)
        .laid(Laid::Inside),
    include_str!("edition.rs"),
    Role::Holder,
);
