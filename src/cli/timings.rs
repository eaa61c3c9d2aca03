//! Timings: how long each stage and each rule took, all covers together.
#![expect(clippy::disallowed_methods, reason = "it says how long a run took")]

use crate::compile::Laps;
use std::fmt::Write as _;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

/// A stopwatch, for covers that are looked at one after the other.
#[derive(Clone)]
pub struct Timings(Arc<Mutex<Stopwatch>>);

struct Stopwatch {
    last: Instant,
    /// In the order in which they first ended.
    all: Vec<(&'static str, Duration)>,
}

impl Default for Timings {
    fn default() -> Timings {
        Timings(Arc::new(Mutex::new(Stopwatch { last: Instant::now(), all: Vec::new() })))
    }
}

impl Timings {
    /// Takes the time at every lap.
    pub fn laps(&self) -> Laps {
        let own = self.clone();
        Box::new(move |name| own.lap(name))
    }

    fn lap(&self, name: &'static str) {
        let mut watch = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let now = Instant::now();
        let took = now - watch.last;
        watch.last = now;
        match watch.all.iter_mut().find(|(known, _)| *known == name) {
            Some((_, sum)) => *sum += took,
            None => watch.all.push((name, took)),
        }
    }

    /// A line for each, in milliseconds, and the sum.
    pub fn text(&self) -> String {
        let watch = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let ms = |took: Duration| took.as_secs_f64() * 1000.0;
        let sum = watch.all.iter().map(|(_, took)| *took).sum();
        let lines = watch.all.iter().copied().chain([("together", sum)]);
        lines.fold("\n".to_owned(), |mut out, (name, took)| {
            writeln!(out, "{:9.1} ms  {name}", ms(took)).expect("a string takes every line");
            out
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn laps_of_one_name_are_one_line() {
        let timings = Timings::default();
        let laps = timings.laps();
        ["read", "hairline", "read"].into_iter().for_each(laps);
        let text = timings.text();
        let names: Vec<&str> = text.lines().filter_map(|line| line.split_whitespace().nth(2)).collect();
        assert_eq!(names, ["read", "hairline", "together"], "{text}");
    }
}
