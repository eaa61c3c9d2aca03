//! A page count that is still an estimate.
//!
//! The spine follows from the page count. One section of 16 pages more moves every fold of the sheet by half a millimetre
//! or more; a cover printed to an estimate does not fit its book.
//!
//! An error: pictures are built, and no press file.
//!
//! ```kdl
//! book { title "T"; author "A"; pages 312 state=estimated }
//! ```
//!
//! Way out: write `state=confirmed` once the text has been passed for press and the paper is settled.
