//! Make: one cover built and delivered, or known to be unchanged.

use crate::assets::ShelfFault;
use crate::compile::deliver::{FinishedFile, deliver, finished_files};
use crate::compile::unchanged;
use crate::compile::{BuildRun, Delivered, build};
use crate::disk::{Disk, Seen, WriteFault};
use crate::record::Built;
use crate::targets::Target;

/// A cover's files, or why there are none.
pub enum BuildResult {
    Built(Built, Delivered),
    /// Built, but not to be written.
    Unwritten(Built, WriteFault),
    Unread(ShelfFault),
}

/// A cover whose files are yet to be written.
pub enum PreparedCover {
    /// As it was: nothing is left to do.
    Known(Built, Delivered, Seen),
    Ready {
        built: Built,
        files: Vec<FinishedFile>,
        seen: Seen,
        guessed: bool,
    },
    Unread(ShelfFault, Seen),
}

/// All that takes a processor: a cover up to the bytes of its files.
pub fn prepare(run: &BuildRun<'_>, target: &Target) -> PreparedCover {
    if let Some(store) = run.store
        && let Some((built, delivered, seen)) = unchanged::recall(store, target, run)
    {
        return PreparedCover::Known(built, delivered, seen);
    }
    let disk = Disk::among(&target.folder, run.places.clone());
    match build(run.workshop, &disk, &target.request) {
        Err(fault) => PreparedCover::Unread(fault, disk.seen()),
        Ok(built) => {
            let files = files(run, target, &built, &disk);
            PreparedCover::Ready { built, files, seen: disk.seen(), guessed: disk.guessed() }
        }
    }
}

/// Writes the files of a cover that is built already.
pub fn write_built(run: &BuildRun<'_>, target: &Target, built: &Built, disk: &Disk) -> Result<Delivered, WriteFault> {
    let files = files(run, target, built, disk);
    delivered(run, target, built, files, (&disk.seen(), disk.guessed()))
}

fn files(run: &BuildRun<'_>, target: &Target, built: &Built, disk: &Disk) -> Vec<FinishedFile> {
    finished_files(built, &disk.inputs(), (run.workshop.outputs, &run.workshop.darkroom), run.options, target)
}

/// Writes files, and remembers the cover unless something of it was guessed.
fn delivered(
    run: &BuildRun<'_>,
    target: &Target,
    built: &Built,
    files: Vec<FinishedFile>,
    (seen, guessed): (&Seen, bool),
) -> Result<Delivered, WriteFault> {
    let delivered = deliver(built, files, seen, target, (run.workshop.outputs, run.store, run.options))?;
    if let Some(store) = run.store.filter(|_| !guessed) {
        unchanged::remember(store, target, run, seen, built, &delivered);
    }
    Ok(delivered)
}

/// All that waits for the disk: writes the files, and says what was looked at.
pub fn finish(run: &BuildRun<'_>, target: &Target, prepared: PreparedCover) -> (BuildResult, Seen) {
    match prepared {
        PreparedCover::Known(built, delivered, seen) => (BuildResult::Built(built, delivered), seen),
        PreparedCover::Unread(fault, seen) => (BuildResult::Unread(fault), seen),
        PreparedCover::Ready { built, files, seen, guessed } => {
            match delivered(run, target, &built, files, (&seen, guessed)) {
                Err(fault) => (BuildResult::Unwritten(built, fault), seen),
                Ok(delivered) => (BuildResult::Built(built, delivered), seen),
            }
        }
    }
}
