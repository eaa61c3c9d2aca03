//! An RGB picture that does not say in which RGB.
//!
//! Red, green and blue mean other colours in other colour spaces. A picture without a profile, and without a mark for sRGB,
//! is converted as sRGB, which is what most programs and cameras write.
//!
//! A note.
//!
//! Way out: save the picture with its profile, or marked as sRGB.
