//! A Markdown file holds more than a cover sets.
//!
//! Copy files are paragraphs with *emphasis*, **strong**, line breaks and `<sc>small caps</sc>`. Headings, lists, links,
//! images, tables and other markup are set as plain words, and reported at their line.
//!
//! Always a warning.
//!
//! Way out: take the markup away, or give the words a `text` of their own.
