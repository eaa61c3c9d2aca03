//! Fuzz: covers and all that they are made of, spoiled at random and given to the binary, which may neither die, nor hang,
//! nor exceed its bounds, nor leave a press file that is not of now.
//!
//! `cargo test --test fuzz` replays the kept cases and draws new ones for a while; `JACONET_LONG=1` for ten minutes or
//! `JACONET_MINUTES`. `JACONET_SEED` begins at a lot of your own. A case that fails is kept under `tests/fuzz/cases/`.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files, a clock and an environment")]

mod bytes;
mod case;
mod corpus;
mod drawings;
mod finished;
mod lot;
mod room;
mod texts;

#[path = "../kit/chance.rs"]
#[expect(dead_code, reason = "formats and page counts are not drawn here")]
mod chance;
#[path = "../kit/files.rs"]
mod files;
#[path = "../kit/lots.rs"]
#[expect(dead_code, reason = "cases are kept whole here, not by their seeds")]
mod lots;
#[path = "../kit/mutate.rs"]
#[expect(dead_code, reason = "only one of its two hands is needed")]
mod mutate;

use case::Case;
use corpus::Corpus;
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

const SHORT: Duration = Duration::from_secs(20);
/// Of so many press files another reader looks at one.
const READ: u64 = 100;

#[test]
fn kept_cases_hold() {
    let mut faults = Vec::new();
    for case in Case::kept() {
        if let Err(fault) = room::holds(&case, &|| true) {
            faults.push(format!("{}: {fault}", case.name));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn new_lots_hold() {
    let (corpus, first) = (Corpus::read(), lots::fresh());
    let (begun, long) = (Instant::now(), long());
    eprintln!("lots from {first} on, for {long:?}");
    let (next, pressed, faults) = (AtomicU64::new(0), AtomicU64::new(0), Mutex::new(Vec::new()));
    let workers = std::thread::available_parallelism().map_or(1, usize::from).min(4);
    std::thread::scope(|scope| {
        for _ in 0..workers {
            scope.spawn(|| {
                while begun.elapsed() < long {
                    let seed = first.wrapping_add(next.fetch_add(1, Ordering::Relaxed));
                    let case = lot::draw(&corpus, seed);
                    let read = || pressed.fetch_add(1, Ordering::Relaxed).is_multiple_of(READ);
                    if let Err(fault) = room::holds(&case, &read) {
                        let place = case.keep();
                        eprintln!("{}: {fault}\nkept in {}", case.name, place.display());
                        faults.lock().expect("no holder stops").push(case.name);
                    }
                }
            });
        }
    });
    let (count, pressed) = (next.into_inner(), pressed.into_inner());
    eprintln!("{count} lots, {pressed} press files");
    let faults = faults.into_inner().expect("no holder stops");
    assert!(faults.is_empty(), "{} of {count} lots: {}", faults.len(), faults.join(", "));
    assert!(pressed > 0, "a lot that is never sound tries nothing");
}

fn long() -> Duration {
    let minutes = std::env::var("JACONET_MINUTES").ok().and_then(|stated| stated.trim().parse().ok());
    match std::env::var_os("JACONET_LONG") {
        Some(_) => Duration::from_mins(minutes.unwrap_or(10)),
        None => SHORT,
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}
