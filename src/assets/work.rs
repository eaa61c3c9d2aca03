//! Work: what was really made, neither remembered nor recalled.

use std::sync::atomic::{AtomicU64, Ordering};

/// So many of each. What two threads made at the same moment counts once.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize)]
pub struct Work {
    /// Texts set to lines.
    pub set: u64,
    /// Pictures turned into a press's ink.
    pub converted: u64,
    /// Streams of press files compressed: pictures, their alpha, fonts, profiles.
    pub compressed: u64,
    /// Views of books lit.
    pub lit: u64,
}

/// Counts work, on any number of threads.
#[derive(Debug, Default)]
pub struct Tally {
    pub set: Counter,
    pub converted: Counter,
    pub compressed: Counter,
    pub lit: Counter,
}

#[derive(Debug, Default)]
pub struct Counter(AtomicU64);

impl Counter {
    pub fn one(&self) {
        self.0.fetch_add(1, Ordering::Relaxed);
    }

    fn so_far(&self) -> u64 {
        self.0.load(Ordering::Relaxed)
    }
}

impl Tally {
    pub fn work(&self) -> Work {
        let counters = [&self.set, &self.converted, &self.compressed, &self.lit];
        let [set, converted, compressed, lit] = counters.map(Counter::so_far);
        Work { set, converted, compressed, lit }
    }
}
