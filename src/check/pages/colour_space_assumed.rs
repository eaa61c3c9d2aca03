//! A picture that does not say what its colours are.
//!
//! Red, green and blue mean other colours in other colour spaces, and inks look different on each press. RGB without a profile
//! and without a mark for sRGB is converted as sRGB, which is what most programs and cameras write. The numbers of a CMYK or
//! grey picture without a profile are taken as the inks of this press.
//!
//! A note.
//!
//! Way out: save the picture with its profile, or RGB marked as sRGB. Where the numbers of a CMYK or grey picture are meant as
//! they are, write `inks as-they-are` in the image.
