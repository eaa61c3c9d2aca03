//! Letters whose ink meets, although they do not join.
//!
//! A font's own kerning leaves a few pairs too close: an `f` runs into what follows, a `V` into a dotted letter. In a title
//! it is seen.
//!
//! - ink of two neighbours that meets or stands nearer than 0.004 em, in type of 20 points or more: warning. Joined scripts
//!   and hands that join their letters by design are left out.
//!
//! ```kdl
//! panel front {
//!     text title words="What if? (A proof) of" { left safe; right safe; top safe; size 30 }
//! }
//! ```
//!
//! Way out: `kern "f?" 60`, in thousandths of an em; another face, or other words.
