//! Run: every cover of a command, on so many threads, with a line of progress. A fault of the program itself in one cover
//! stops none of the others.

use crate::assets::Shelf as _;
use crate::cli::progress::Progress;
use crate::cli::reply::Reply;
use crate::compile::{Processors, Steps, withdraw_unfinished, work_through};
use crate::disk::{Disk, Seen};
use crate::output::OUTPUTS;
use crate::targets::Target;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};

/// Works on every target; the results come in the order of the targets, as soon as all before them are there.
pub fn each<T: Send>(jobs: Option<u16>, targets: &[Target], work: impl Fn(&Target) -> T + Sync, done: impl FnMut(T)) {
    in_steps(jobs, targets, &Steps { prepare: work, write: |_: &Target, result, _: Processors<'_>| result }, done);
}

/// The same in two steps.
pub fn in_steps<U: Send, T: Send>(
    jobs: Option<u16>,
    targets: &[Target],
    steps: &Steps<impl Fn(&Target) -> U + Sync, impl Fn(&Target, U, Processors<'_>) -> T + Sync>,
    mut done: impl FnMut(T),
) {
    let progress = Progress::start(targets.len());
    let prepare = |at: usize| (steps.prepare)(&targets[at]);
    let write = |at: usize, prepared: U, processors: Processors<'_>| {
        let result = (steps.write)(&targets[at], prepared, processors);
        progress.step();
        result
    };
    let jobs = jobs.map_or(0, usize::from);
    work_through(jobs, targets.len(), &Steps { prepare, write }, |_, result| progress.aside(|| done(result)));
}

/// A first step; a fault in it waits for the second.
pub fn caught<U>(work: impl FnOnce() -> U) -> std::thread::Result<U> {
    catch_unwind(AssertUnwindSafe(work))
}

/// What came of the first step; a fault in it goes on from here, to be guarded against.
pub fn resumed<U>(step: std::thread::Result<U>) -> U {
    step.unwrap_or_else(|fault| resume_unwind(fault))
}

/// A fault of the program itself becomes a reply of this cover alone.
pub fn guarded<T: AfterFault>(target: &Target, work: impl FnOnce() -> (Reply, T)) -> (Reply, T) {
    caught(work).unwrap_or_else(|_| {
        let what = "stopped by a fault of the program itself; please report it, with this cover and the lines above";
        let why = format!("{}: {what}", target.name);
        (Reply::stopped(&why), T::after_fault(target, why))
    })
}

/// What stands for the result of a cover that a fault of the program stopped.
pub trait AfterFault {
    fn after_fault(target: &Target, why: String) -> Self;
}

/// It waits for its cover file to change.
impl AfterFault for Seen {
    fn after_fault(target: &Target, _: String) -> Seen {
        withdraw_unfinished(target, OUTPUTS);
        let disk = Disk::new(&target.folder);
        let _ = disk.read(&target.request.path);
        disk.seen()
    }
}

impl<T> AfterFault for Option<T> {
    fn after_fault(_: &Target, _: String) -> Option<T> {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::exit::Exit;
    use crate::record::CoverRequest;

    #[test]
    #[expect(clippy::disallowed_methods, reason = "it plays an earlier build, which left its files")]
    fn a_fault_of_ours_stops_one_cover_and_takes_its_press_file() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let target = |name: &str| Target {
            shown: format!("{name}.kdl"),
            name: name.to_owned(),
            folder: home.path().to_owned(),
            request: CoverRequest::of("cover.kdl"),
            stem: name.to_owned(),
            out: home.path().to_owned(),
        };
        let targets = ["one", "two", "three"].map(target);
        let press = |name: &str| home.path().join(format!("{name}-press.pdf"));
        for target in &targets {
            std::fs::write(press(&target.stem), b"older").expect("writes");
        }
        let mut replies = Vec::new();
        let steps = Steps {
            prepare: |target: &Target| caught(|| assert_ne!(target.name, "two")),
            write: |target: &Target, prepared, _: Processors<'_>| {
                guarded(target, || {
                    resumed(prepared);
                    (Reply::silent(Exit::Clean), Seen::default())
                })
            },
        };
        in_steps(Some(2), &targets, &steps, |done| replies.push(done.0));
        let exits: Vec<Exit> = replies.iter().map(|reply| reply.exit).collect();
        assert_eq!(exits, [Exit::Clean, Exit::Stopped, Exit::Clean]);
        assert!(replies[1].error.contains("two: stopped by a fault of the program itself; please report it"));
        assert_eq!(["one", "two", "three"].map(|name| press(name).exists()), [true, false, true]);
    }
}
