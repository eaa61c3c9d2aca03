//! Copy that should be hyphenated, in a language without patterns.
//!
//! Words part by the patterns of their language, and there are none for this one. Justified lines then have only their word
//! spaces to give.
//!
//! - several lines, and `hyphenate #true` in their style: warning; justified by default: note.
//!
//! ```kdl
//! panel back {
//!     text blurb words="Ночью гавань замёрзла, и на причале зажгли все фонари, которые нашлись в городе" {
//!         left safe; width 60; top safe; language ru; align justify; hyphenate #true
//!     }
//! }
//! ```
//!
//! Way out: patterns in TeX's format beside the covers, `hyphenation "ru" file="hyph-ru.tex"` in `type`; soft hyphens in long words (U+00AD, `&shy;` in Markdown), `align left`, or `hyphenate #false`.
