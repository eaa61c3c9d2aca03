//! Wait: waits for the files of covers to change and calls for a build. The one door to the watcher of the system.
#![expect(clippy::disallowed_methods, reason = "it waits for bursts of changes to end, by the clock")]

use crate::watch::watched::{ChangedPlace, FileMemory, WatchedPlaces};
use notify::event::{AccessKind, AccessMode, EventKind, ModifyKind, RenameMode};
use notify::{RecommendedWatcher, RecursiveMode, Watcher as _};
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender};
use std::time::{Duration, Instant};

/// A saving editor touches a file several times; after so long a quiet it is done.
const QUIET: Duration = Duration::from_millis(40);
/// The same where the last that was heard is that a file is whole: closed after writing, or renamed. Chosen by judgement: what
/// another file brings later is built again.
const SHORT_QUIET: Duration = Duration::from_millis(12);
/// Whoever writes without end is not waited for any longer.
const PATIENCE: Duration = Duration::from_millis(600);
/// How long a file may be gone in the middle of being saved.
const GRACE: Duration = Duration::from_millis(200);

/// So often folders are looked up that come and go meanwhile.
const ATTEMPTS: usize = 5;

/// What ends a wait.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wake {
    Files,
    /// A file was closed after writing, or has its name.
    Whole,
    /// Other places are to be watched: `take` says which, without any that changed.
    Places,
    Stop,
}

/// Calls `take` once, and again whenever a place that it looked at has another content, with the places that changed;
/// it says what it looked at. Returns when `Wake::Stop` comes, or with the system's reason.
pub fn watch(
    (sender, wakes): (Sender<Wake>, Receiver<Wake>),
    take: &mut dyn FnMut(&[PathBuf]) -> WatchedPlaces,
) -> Result<(), String> {
    let mut watcher = notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
        if let Some(wake) = event.map_or(Some(Wake::Files), |event| wake_of(event.kind)) {
            // Nobody listens any more when the watch is over.
            let _ = sender.send(wake);
        }
    })
    .map_err(|error| format!("files cannot be watched: {error}"))?;
    let (mut armed, mut memory) = (BTreeSet::new(), FileMemory::default());
    let mut watched = take(&[]);
    // Whether a quiet has passed since the last change that was reported.
    let mut calm = false;
    // That places were renewed, heard of during a wait.
    let mut renewed = None;
    loop {
        // Before anything is looked at: what was reported so far is seen now, and only a stop may not be forgotten.
        let reported: Vec<Wake> = wakes.try_iter().chain(renewed.take()).collect();
        if reported.contains(&Wake::Stop) {
            return Ok(());
        }
        if reported.contains(&Wake::Places) {
            watched = take(&[]);
        }
        // Armed before looked at: what changes from here on wakes, what changed before is seen now.
        let steady = arm(&mut watcher, &mut armed, &watched)?;
        let mut changed = settled(&watched, &mut memory);
        if !changed.is_empty() && !calm {
            if quiet(&wakes, &mut renewed) == Wake::Stop {
                return Ok(());
            }
            changed = settled(&watched, &mut memory);
        }
        if changed.is_empty() {
            // Folders that come and go too quickly to be armed are looked at again.
            if (if steady { next(&wakes, &mut renewed) } else { quiet(&wakes, &mut renewed) }) == Wake::Stop {
                return Ok(());
            }
            calm = true;
            continue;
        }
        watched = take(&changed);
        calm = false;
    }
}

/// Reading is no update; closing what was written is.
fn wake_of(kind: EventKind) -> Option<Wake> {
    match kind {
        EventKind::Access(AccessKind::Close(AccessMode::Write))
        | EventKind::Modify(ModifyKind::Name(RenameMode::To | RenameMode::Both)) => Some(Wake::Whole),
        EventKind::Access(_) => None,
        _ => Some(Wake::Files),
    }
}

/// What changed, once it has come to rest: a file that is replaced may be gone for a moment.
fn settled(watched: &WatchedPlaces, memory: &mut FileMemory) -> Vec<PathBuf> {
    let mut changes = watched.changes(memory);
    let begin = Instant::now();
    while changes.iter().any(|change| change.lost) && begin.elapsed() < GRACE {
        std::thread::sleep(QUIET);
        changes = watched.changes(memory);
    }
    changes.into_iter().map(|ChangedPlace { place, .. }| place).collect()
}

/// Waits for a wake and for the quiet after it.
fn next(wakes: &Receiver<Wake>, renewed: &mut Option<Wake>) -> Wake {
    match wakes.recv() {
        Ok(wake @ (Wake::Files | Wake::Whole)) => quiet_after(wake, wakes, renewed),
        Ok(Wake::Places) => {
            *renewed = Some(Wake::Places);
            Wake::Files
        }
        // Without a sender nothing can change any more.
        Ok(Wake::Stop) | Err(_) => Wake::Stop,
    }
}

/// Waits until nothing has been reported for a while.
fn quiet(wakes: &Receiver<Wake>, renewed: &mut Option<Wake>) -> Wake {
    quiet_after(Wake::Files, wakes, renewed)
}

fn quiet_after(mut last: Wake, wakes: &Receiver<Wake>, renewed: &mut Option<Wake>) -> Wake {
    let begin = Instant::now();
    while begin.elapsed() < PATIENCE {
        match wakes.recv_timeout(if last == Wake::Whole { SHORT_QUIET } else { QUIET }) {
            Ok(wake @ (Wake::Files | Wake::Whole)) => last = wake,
            Ok(Wake::Places) => *renewed = Some(Wake::Places),
            Ok(Wake::Stop) | Err(RecvTimeoutError::Disconnected) => return Wake::Stop,
            Err(RecvTimeoutError::Timeout) => break,
        }
    }
    Wake::Files
}

/// Every folder is armed again: one that was replaced by another of its name is no longer watched. A folder may come or go
/// between its being looked up and its being armed; then all are looked up again. False if that has no end.
fn arm(
    watcher: &mut RecommendedWatcher,
    armed: &mut BTreeSet<PathBuf>,
    watched: &WatchedPlaces,
) -> Result<bool, String> {
    let mut wanted = watched.folders();
    for _ in 0..ATTEMPTS {
        for folder in armed.iter() {
            let _ = watcher.unwatch(folder);
        }
        let mut whole = true;
        for folder in &wanted {
            match watcher.watch(folder, RecursiveMode::NonRecursive) {
                Ok(()) => {}
                Err(error) if matches!(error.kind, notify::ErrorKind::PathNotFound) => whole = false,
                // One that may not be watched will not be so the next time.
                Err(error) if matches!(error.kind, notify::ErrorKind::Io(_)) => whole &= folder.is_dir(),
                Err(error) => return Err(format!("{} cannot be watched: {error}", folder.display())),
            }
        }
        *armed = wanted;
        wanted = watched.folders();
        if whole && wanted == *armed {
            return Ok(true);
        }
    }
    Ok(false)
}
