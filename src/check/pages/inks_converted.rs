//! A CMYK picture that was separated for another press.
//!
//! Its profile says for which press. Its inks are converted so that it looks the same on this one: the numbers change, and what
//! was printed in black alone is then printed in several inks.
//!
//! A note.
//!
//! Way out: nothing, if the colours count. If the numbers count, write `inks as-they-are` in the image.
