//! A justified line whose words stand too far apart.
//!
//! Where no word may be broken and none more fits, a justified line is stretched: its blanks grow beyond what the style
//! allows (`word-space`), and a hole shows in the paragraph.
//!
//! - word spaces beyond those that the style allows and of 0.4 em or more: warning, with the line and its word spaces.
//!   Common practice, from memory: a quarter of an em is usual, half an em the most.
//!
//! ```kdl
//! panel back {
//!     text blurb words="Extraordinary lighthouses notwithstanding, saltworkers congregate underneath" {
//!         left safe; width 40; top safe; size 14; align justify; hyphenate #false
//!     }
//! }
//! ```
//!
//! Way out: `hyphenate #true`, another word, a wider frame, or `align left`.
