//! A screen colour that was turned into ink.
//!
//! A swatch stated in RGB is converted through the press profile, and the message says into which inks. Many bright screen
//! colours have no ink that comes near them.
//!
//! A note; a warning where the print visibly misses the colour, beyond a CIEDE2000 difference of 5 (common practice).
//!
//! ```kdl
//! swatches { rgb sea "#00ff40"; }
//! ```
//!
//! Way out: state the swatch in ink, `swatch sea c=80 m=20 y=40`, or choose a spot ink.
