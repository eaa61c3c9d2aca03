//! Covers of one series side by side: the lines and sizes that most of them share, and what strays from them.

mod common;
mod sight;
mod strays;
#[cfg(test)]
mod tests;
mod words;

pub use sight::{Sight, sight};
pub use strays::{Stray, strays};
