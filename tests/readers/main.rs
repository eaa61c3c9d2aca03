//! What we write, as others read it: every check here asks a program or library that is none of ours.
//!
//! A reader that is missing is a failure: `tests/run` installs them all.
#![expect(clippy::disallowed_methods, reason = "it plays the author and the printer, who have files")]

#[cfg(target_arch = "x86_64")]
mod ages;
mod agreement;
mod bars;
mod boxes;
mod bytes;
mod centring;
#[path = "../kit/chance.rs"]
#[expect(dead_code, reason = "numbers alone are asked for")]
mod chance;
mod drawings;
mod editions;
mod fades;
mod features;
mod flat;
mod geometry;
mod graphemes;
mod hairlines;
mod hyphens;
mod inks;
mod jpegs;
mod kit;
mod lettering;
mod limited;
mod measured;
mod memory;
mod patches;
#[path = "../benches/catalogue/picture.rs"]
#[expect(dead_code, reason = "one picture is drawn here")]
mod picture;
mod plates;
mod pointed;
mod python;
mod reports;
mod ribbon;
mod rules;
mod screens;
mod secrets;
mod shaping;
mod sizes;
mod soundness;
mod tables;
mod titles;
mod tones;
mod variable;
mod views;
mod within;
mod words;
