//! Spoken: a command typed in a folder: its exit code, and what it says on both streams.

use std::path::Path;
use std::process::{Command, Stdio};

pub fn jaconet(folder: &Path, words: &[&str]) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(folder).args(words).stdin(Stdio::null());
    let output = command.output().expect("the binary runs");
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("words are UTF-8");
    (output.status.code().expect("it ends by itself"), text(&output.stdout), text(&output.stderr))
}
