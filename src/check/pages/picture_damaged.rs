//! A picture whose file is damaged, and which can be read in part.
//!
//! A JPEG may lose bytes on its way and still open: from the damaged place on it shows grey, smears or shifted colours. It
//! is printed as far as it can be read, and its bytes are written again, so that the press file itself is sound.
//!
//! A warning. A file of which nothing can be read is an error.
//!
//! Way out: fetch the file again from where it came, or save it again.
