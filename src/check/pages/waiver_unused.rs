//! A waiver that silences no finding.
//!
//! What it was written for has been put right, or its element, panel or rule is another one. Left in the file, it would
//! hide the next finding of that rule.
//!
//! Always a note.
//!
//! ```kdl
//! panel front {
//!     text title words="{title}" { waive hairline reason="thin on purpose"; left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: take the waiver out. In a template that only some titles need it for, leave it.
