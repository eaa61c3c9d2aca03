//! What is wanted: from the names that were typed to covers, each with all that lies under and over it.

mod catalogue;
mod layers;
mod past;
mod roster;
mod target;
mod trial;

#[cfg(test)]
pub use catalogue::catalogue;
pub use layers::{Sources, TRIAL, layers, variants};
pub use past::Past;
pub use roster::{Roster, Selection, Share, roster, roster_and_seen};
pub use target::{COVER, KnownCover, Refusal, Target};
pub use trial::trial;
