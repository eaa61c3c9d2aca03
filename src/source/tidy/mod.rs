//! Tidy: a file of ours in the one layout, with the same tree and every comment.

mod comments;
mod outline;
mod print;
#[cfg(test)]
mod random_tests;
#[cfg(test)]
mod tests;
mod tidied;

pub use tidied::{Untidied, tidied};
