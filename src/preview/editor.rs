//! Editor: opens a line of a file that a cover reads, by the command that the user stated when the preview was started.

use crate::preview::answer::{Declined, PageAnswer};
use crate::preview::studio::Studio;
use serde::Deserialize;
use std::path::{Component, Path, PathBuf};
use std::process::{Command, Stdio};

#[derive(Deserialize)]
pub struct OpenOrder {
    file: String,
    line: u32,
}

pub fn open(studio: &Studio, order: &OpenOrder) -> Result<PageAnswer, Declined> {
    let Some(command) = &studio.editor else {
        let help = "start the preview with --editor COMMAND; {file} and {line} in it are replaced";
        return Err(Declined::unfit("no editor was named", help));
    };
    // `./cover.kdl` is `cover.kdl`.
    let bare = |path: &Path| path.components().filter(|part| *part != Component::CurDir).collect::<PathBuf>();
    let path = bare(Path::new(&order.file));
    let reads = |place: &Path| bare(place) == path;
    let known = studio
        .followed()
        .covers
        .iter()
        .any(|cover| cover.seen.as_ref().is_some_and(|seen| seen.0.keys().any(|place| reads(place))));
    if !known {
        return Err(Declined::missing("no cover here reads this file"));
    }
    // No shell: the words are handed over one by one, whatever a file is called.
    let line = order.line.to_string();
    let mut words = command.split_whitespace().map(|word| word.replace("{file}", &order.file).replace("{line}", &line));
    let program = words.next().unwrap_or_default();
    let mut child = Command::new(&program);
    child.args(words).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    match child.spawn() {
        Ok(mut child) => {
            std::thread::spawn(move || child.wait());
            Ok(PageAnswer::Done)
        }
        Err(fault) => Err(Declined::unfit(format!("`{program}` does not start: {fault}"), "see --editor")),
    }
}
