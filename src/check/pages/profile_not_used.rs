//! A picture whose profile cannot be used.
//!
//! The profile in the file is damaged, or it is for another kind of colours than the picture has: an RGB profile in a CMYK
//! file. RGB is then taken as sRGB, and CMYK and grey as inks of this press.
//!
//! A warning.
//!
//! Way out: save the picture again with its own profile.
