//! Covers of one series side by side: the lines and sizes that most of them share, and what strays from them.

mod appearance;
mod common;
mod strays;
#[cfg(test)]
mod tests;
mod words;

pub use appearance::{Appearance, appearance};
pub use strays::{Stray, strays};
