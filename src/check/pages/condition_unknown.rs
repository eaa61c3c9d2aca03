//! A stated condition that no registry has, though its name looks like one of them.
//!
//! The name of the output condition tells the printer which press the file is made for. One letter off, it tells nothing, or
//! names another press. It is asked of a condition that is stated for a profile which names none itself, against the names of
//! the ICC's registry of characterisation data, as known on 27 November 2026. A name unlike all of them passes: a printer may
//! call its own press as it likes.
//!
//! A note.
//!
//! Way out: the name that the message offers, if it is meant; else leave the name as the printer gives it.
