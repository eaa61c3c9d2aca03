//! What is wanted: from the names that were typed to covers, each with all that lies under and over it.

mod catalogue;
mod dependants;
mod editions;
mod layers;
mod past;
mod printer;
mod sources;
mod target;
mod target_list;
mod trial;

#[cfg(test)]
pub use catalogue::catalogue;
pub use dependants::dependants;
pub use layers::{LaidCover, TRIAL, layers, variants};
pub use past::Past;
pub use sources::Sources;
pub use target::{COVER, KnownCover, Refusal, Target};
pub use target_list::{Selection, Share, TargetList, find_targets, find_targets_and_seen};
pub use trial::trial;
