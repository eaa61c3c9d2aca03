//! Python: its libraries read bar codes, PDF objects and profiles for us.

use crate::kit::{ask, shown};
use std::path::Path;

/// Runs a script of this folder in the environment that `tests/run` makes, or in the one on the path.
pub fn python(script: &str, words: &[&str]) -> String {
    let home = Path::new(env!("CARGO_MANIFEST_DIR"));
    let own = home.join(".venv/bin/python3");
    let program = if own.is_file() { shown(&own) } else { "python3".to_owned() };
    let script = shown(&home.join("tests/readers").join(script));
    let words: Vec<&str> = [script.as_str()].into_iter().chain(words.iter().copied()).collect();
    ask(&program, &words)
}
