//! Lots: designs drawn from seeds. Every run tries the same ones, so a change is judged by what it changed; a long run
//! draws new ones. The seed of one that fails is kept in a file under `tests/lots/` and tried again by every later run.
#![expect(clippy::disallowed_methods, reason = "it keeps the lots that failed")]

use std::fmt::Write as _;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

/// How often a law is tried; fifty times as often with `JACONET_LONG=1`.
pub fn rounds(short: u32) -> u32 {
    if std::env::var_os("JACONET_LONG").is_some() { short * 50 } else { short }
}

/// The first seed of a law: always the same, unless `JACONET_SEED` names another or a long run wants new ones.
fn first(name: &str) -> u64 {
    if std::env::var_os("JACONET_LONG").is_some() || std::env::var_os("JACONET_SEED").is_some() {
        return fresh();
    }
    name.bytes().fold(0, |sum, letter| (sum * 31 + u64::from(letter)) % 1_000_000_000_000)
}

/// A seed that no run has had before; `JACONET_SEED` names one that it had.
pub fn fresh() -> u64 {
    let stated = std::env::var("JACONET_SEED").ok().and_then(|stated| stated.trim().parse().ok());
    stated.unwrap_or_else(|| {
        let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
        // Two tests that begin together draw apart.
        let place = std::ptr::from_ref(&now) as usize as u64;
        (now.as_nanos() as u64 ^ place.rotate_left(32)) % 1_000_000_000_000
    })
}

/// Tries a law with the lots that once failed, and with so many new ones.
pub fn try_law(name: &str, count: u32, law: impl Fn(u64)) {
    let file = kept(name);
    let old = seeds(&file);
    let first = first(name);
    for seed in old.iter().copied().chain((0..u64::from(count)).map(|round| first.wrapping_add(round))) {
        if let Err(fault) = catch_unwind(AssertUnwindSafe(|| law(seed))) {
            if !old.contains(&seed) {
                keep(&file, seed);
            }
            eprintln!("the law `{name}` fails for the lot {seed}, which is kept in {}", file.display());
            resume_unwind(fault);
        }
    }
}

fn kept(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/lots/{name}.txt"))
}

/// The first word of every line is a seed.
fn seeds(file: &Path) -> Vec<u64> {
    let text = std::fs::read_to_string(file).unwrap_or_default();
    text.lines().filter_map(|line| line.split_whitespace().next()?.parse().ok()).collect()
}

fn keep(file: &Path, seed: u64) {
    let mut text = std::fs::read_to_string(file).unwrap_or_default();
    writeln!(text, "{seed}").expect("a string takes every line");
    std::fs::write(file, text).expect("the lot can be kept");
}
