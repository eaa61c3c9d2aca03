//! The stages in order, from a target to finished files.

mod crew;
mod deliver;
mod known;
mod make;
mod marked;
mod pipeline;
mod stages;
mod tidy;
mod workshop;

pub use crate::cover::Measure;
pub use crew::{Steps, crew};
pub use deliver::{Delivered, Order, Written, withdraw_press};
pub use known::{Look, request};
pub use make::{Made, Shop, Thought, finish, think};
pub use pipeline::{build, measure};
pub use tidy::{Layout, tidy};
pub use workshop::Workshop;
