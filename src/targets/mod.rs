//! What is wanted: from the names that were typed to covers, each with all that lies under and over it.

mod attempt;
mod catalogue;
mod layers;
mod past;
mod roster;
mod target;

pub use attempt::attempt;
#[cfg(test)]
pub use catalogue::catalogue;
pub use layers::{Sources, TRIED, layers, variants};
pub use past::Past;
pub use roster::{Roster, Shard, Wish, roster, sought};
pub use target::{COVER, Refusal, Target};
