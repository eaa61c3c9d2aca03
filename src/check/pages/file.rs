//! A file that could not be used, and was left out.
//!
//! A file of the `fonts` folder that is damaged or no font is left out, and the cover is built without it: a warning. The
//! cover may then lack the font that a style asks for, which is a separate error.
//!
//! Way out: replace the file, or take it out of the folder.
