//! Signs that are printed otherwise than they were typed, since a style asks for it.
//!
//! `signs quotes dashes spaces` prints straight quotation marks, hyphens that stand for dashes, and blanks as the language has
//! them. A program guesses here: whether a mark opens or closes, and whether a hyphen is a dash. So the report says how many
//! of them were set.
//!
//! - any that were set: note.
//!
//! ```kdl
//! panel back {
//!     text quote words="\"Demain !\" dit-elle" { left safe; right safe; top safe; language fr; signs quotes spaces }
//! }
//! ```
//!
//! Way out: read the words as they are printed. What is wrong, type as it should be printed: signs of a printer stay as they
//! are. `signs none` leaves all of them.
