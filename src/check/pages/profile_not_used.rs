//! A picture in CMYK or grey with a profile that is not used.
//!
//! Pictures in CMYK and grey are printed with the values they have. A profile inside says which press these were made for;
//! on another press the picture may come out lighter, darker or in other hues.
//!
//! A note.
//!
//! Way out: convert the picture to the profile that `press` names, or save it without a profile where its values are meant
//! as they are.
