//! Make: one cover built and delivered, or known to be unchanged.

use crate::assets::ShelfFault;
use crate::compile::deliver::{FilesOnTheirWay, FinishedFile, MakingTurn, finished_files};
use crate::compile::unchanged;
use crate::compile::{BuildRun, Delivered, Processors, build};
use crate::disk::{Disk, Seen, WriteFault};
use crate::ground::Digest;
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
    /// With the files that are wanted first.
    Ready(Built, Vec<FinishedFile>, CoverSources),
    Unread(ShelfFault, Seen),
}

/// What a build looked at.
pub struct CoverSources {
    inputs: Vec<(String, Digest)>,
    seen: Seen,
    guessed: bool,
}

impl CoverSources {
    fn of(disk: &Disk) -> CoverSources {
        CoverSources { inputs: disk.inputs(), seen: disk.seen(), guessed: disk.guessed() }
    }
}

/// All that takes a processor, up to the bytes of what is wanted first.
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
            let files = finished_files(&built, run, target, MakingTurn::First);
            PreparedCover::Ready(built, files, CoverSources::of(&disk))
        }
    }
}

/// Writes the files of a cover that is built already.
pub fn write_built(run: &BuildRun<'_>, target: &Target, built: &Built, disk: &Disk) -> Result<Delivered, WriteFault> {
    let files = finished_files(built, run, target, MakingTurn::First);
    delivered((run, target), built, files, &CoverSources::of(disk), Processors::default())
}

/// Writes what is finished, has the rest finished and written, and remembers the cover unless something of it was guessed.
/// Whoever waits for the press file and the flat picture does not wait for views and proof as well.
fn delivered(
    (run, target): (&BuildRun<'_>, &Target),
    built: &Built,
    files: Vec<FinishedFile>,
    sources: &CoverSources,
    processors: Processors<'_>,
) -> Result<Delivered, WriteFault> {
    let mut on_their_way = FilesOnTheirWay::begin(built, &sources.seen, run, target)?;
    on_their_way.write(files)?;
    on_their_way.write(processors.compute(|| finished_files(built, run, target, MakingTurn::Then)))?;
    let delivered = on_their_way.end(&sources.inputs)?;
    if let Some(store) = run.store.filter(|_| !sources.guessed) {
        unchanged::remember(store, target, run, &sources.seen, built, &delivered);
    }
    Ok(delivered)
}

/// All that waits for the disk: writes the files, and says what was looked at.
pub fn finish(
    run: &BuildRun<'_>,
    target: &Target,
    prepared: PreparedCover,
    processors: Processors<'_>,
) -> (BuildResult, Seen) {
    match prepared {
        PreparedCover::Known(built, delivered, seen) => (BuildResult::Built(built, delivered), seen),
        PreparedCover::Unread(fault, seen) => (BuildResult::Unread(fault), seen),
        PreparedCover::Ready(built, files, sources) => {
            match delivered((run, target), &built, files, &sources, processors) {
                Err(fault) => (BuildResult::Unwritten(built, fault), sources.seen),
                Ok(delivered) => (BuildResult::Built(built, delivered), sources.seen),
            }
        }
    }
}
