//! The watch: which files are followed, what of them changed, and which covers that concerns.

mod follow;
mod wait;
#[cfg(test)]
mod wait_tests;
mod watched;

pub use follow::{Followed, Update, follow};
pub use wait::{Wake, watch};
pub use watched::WatchedPlaces;
