//! `jaconet watch`: builds again whenever a file of a cover changes, until Ctrl-C.
#![expect(clippy::disallowed_methods, reason = "it says how long a build took")]

use crate::build::{Order, Seen, Turn, Wake, Workshop, watch};
use crate::cli::args::WatchArgs;
use crate::cli::build::one;
use crate::cli::exit::Exit;
use crate::cli::say;
use crate::cli::store::{close, keep};
use crate::cli::target::{Target, targets};
use std::path::PathBuf;
use std::sync::mpsc::channel;
use std::time::Instant;

pub fn run(args: &WatchArgs) -> Exit {
    let Some(targets) = targets(&args.files, args.out.as_deref()) else { return Exit::Stopped };
    let (sender, wakes) = channel();
    let stop = sender.clone();
    // Without a handler Ctrl-C ends the process all the same, only not between two files.
    let _ = ctrlc::set_handler(move || {
        let _ = stop.send(Wake::Stop);
    });
    let store = args.store.open();
    let workshop = Workshop::new(keep(store.as_ref()));
    let mut take = |turn: Turn| turn_of(&workshop, &targets[turn.cover], &turn.changed);
    let ended = watch(targets.len(), (sender, wakes), &mut take);
    close(store.as_ref());
    match ended {
        Ok(()) => Exit::Clean,
        Err(why) => {
            say::stopped(&why, "build once with `jaconet build`");
            Exit::Stopped
        }
    }
}

fn turn_of(workshop: &Workshop, target: &Target, changed: &[PathBuf]) -> Seen {
    if !changed.is_empty() {
        let names: Vec<String> = changed.iter().map(|path| name(path, target)).collect();
        say::out(&format!("\nchanged: {}\n", say::visible(&names.join(", "))));
    }
    let begin = Instant::now();
    let (told, seen) = one(workshop, target, &Order::default());
    say::error(&told.error);
    say::out(&told.out);
    say::out(&format!("built in {} ms; waiting for changes, Ctrl-C ends\n", begin.elapsed().as_millis()));
    seen
}

/// A path as the cover file writes it.
fn name(path: &std::path::Path, target: &Target) -> String {
    path.strip_prefix(&target.folder).unwrap_or(path).display().to_string()
}
