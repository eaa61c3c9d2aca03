//! A limit of the printer that the cover relaxes, or a press that is not the printer's.
//!
//! The printer's file says what the press and the bindery can do. The cover comes last and its number holds, but the printer
//! will measure against the other one: a line that is thin enough for the cover may still be returned.
//!
//! Always a note, which names both numbers. It is asked of every `limit` in the printer's file, and of the `ink-limit` and
//! the `limit-inks` of its `press`; of `limit-inks` where a picture in the press's inks may have more. A stricter number
//! passes. Where cover and printer state different presses, a note names both conditions: the cover's is what pictures and
//! screen colours are converted for.
//!
//! ```text
//! printer "printers/quay.kdl"             // says limit hairline delicate=0.5
//! limit hairline delicate=0.3
//! ```
//!
//! Way out: take the line out of the cover, or agree the number with the printer and waive this with the letter as the
//! reason: `waive limit-relaxed reason="agreed on 12 May"`.
