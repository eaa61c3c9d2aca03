//! Placeholder copy where the real words belong.
//!
//! `stand-in words=80` fills a text with words that mean nothing, for designs that come before the copy. They must not be
//! printed.
//!
//! Always an error: pictures are built, and no press file.
//!
//! ```kdl
//! panel back {
//!     text blurb { stand-in words=80; left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: `words="…"`, or `copy="blurb.md"`.
