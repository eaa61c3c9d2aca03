//! The watch: which files are followed, what of them changed, and which covers that concerns.

mod follow;
mod sights;
mod wait;
#[cfg(test)]
mod wait_tests;

pub use follow::{Followed, News, follow};
pub use wait::{Wake, watch};
