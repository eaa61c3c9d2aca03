//! Markdown in a copy file that a cover has no use for.
//!
//! Copy has paragraphs, *emphasis*, **strong**, line breaks and `<sc>small caps</sc>`. Headings, lists, quotations, links,
//! pictures, code, tables and other tags of HTML are set as plain words, or not at all.
//!
//! Always a warning, at its line in the copy file.
//!
//! Way out: give a heading or a list an element of its own, with a style of its own.
