//! A language whose books are bound on either side, and no word which side it is.
//!
//! Japanese books and Chinese books in traditional characters are bound on the right where their lines run from head to
//! foot, and on the left where they run from left to right. The order of the panels follows the side. Without
//! `binding-side` the book is taken as bound on the left. Common practice, from memory.
//!
//! Always a note.
//!
//! ```kdl
//! book { title "T"; pages 320; language ja }
//! ```
//!
//! Way out: write `binding-side right` in `book`, or `binding-side left`.
