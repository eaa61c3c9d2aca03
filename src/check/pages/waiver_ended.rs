//! A waiver whose end has come, or whose end cannot be told.
//!
//! `until=` names the last version of the book, or the last day by the date of its version, for which the waiver holds. After
//! that it silences nothing. The clock of the machine is never asked, so the same files always give the same report. A waiver
//! with an end in a book without a version or date still holds, and this warning says what is missing.
//!
//! Always a warning.
//!
//! ```kdl
//! book { title "Salt"; author "M. Anand"; pages 320; version 3 }
//! waive page-section until=2 reason="the printer adds a section of advertisements"
//! ```
//!
//! Way out: mend what the rule finds and take the waiver out, or give it another end.
