//! `jaconet build`: many covers at once, told in the order they were typed.
#![expect(clippy::disallowed_methods, reason = "it says how long a run took")]

use crate::assets::{Shelf as _, ShelfFault};
use crate::cli::args::{BuildArgs, Summary};
use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::outcome::{Outcome, Sums, outcome};
use crate::cli::present::text;
use crate::cli::progress::Progress;
use crate::cli::say;
use crate::cli::store::{close, keep};
use crate::cli::{compare, tries};
use crate::compile::{Look, Order, Shop, Steps, Workshop, crew, finish, think, withdraw_press};
use crate::disk::{Disk, Seen};
use crate::record::Built;
use crate::targets::Target;
use std::time::Instant;

pub fn run(args: &BuildArgs) -> Exit {
    let begin = Instant::now();
    let Some((roster, mut exit)) = called(&args.covers.wish(args.out.as_deref())) else { return Exit::Stopped };
    let order = Order { only: args.only.clone(), surround: args.surround.map(Into::into) };
    let store = args.work.store.open();
    let workshop = Workshop::new(keep(store.as_ref()));
    if !args.tries.is_empty() {
        let form = if args.report == Summary::Text { compare::Form::Text } else { compare::Form::Json };
        exit = exit.max(tries::run(&workshop, &roster.targets, &args.tries, form, args.work.jobs));
        if form == compare::Form::Text && exit < Exit::Stopped {
            say::out("nothing is written: facts were tried only\n");
        }
        close(store.as_ref());
        return exit;
    }
    let shop = Shop { workshop: &workshop, store: store.as_deref(), order: &order, look: &Look::default() };
    let eyes = args.report == Summary::Text;
    let alone = roster.targets.len() == 1 && args.covers.title.is_empty() && roster.told.is_empty();
    let mut all: Vec<Outcome> = Vec::with_capacity(roster.targets.len());
    let steps = Steps {
        think: |target: &Target| attempted(|| think(&shop, target)),
        write: |target: &Target, thought| {
            guarded(target, || outcome(target, &finish(&shop, target, attained(thought)).0, alone))
        },
    };
    in_steps(args.work.jobs, &roster.targets, &steps, |told| {
        if eyes {
            told.0.say();
        }
        exit = exit.max(told.0.exit);
        all.push(told.1);
    });
    let sums =
        Sums { all: &all, catalogues: &roster.told, work: workshop.work(), seconds: begin.elapsed().as_secs_f64() };
    if !eyes {
        say::out(&sums.json());
    } else if !alone {
        say::out(&sums.text());
    }
    close(store.as_ref());
    exit
}

/// Works on every target, on so many threads; what comes of them is told in the order of the targets, as soon as it may.
pub fn each<T: Send>(jobs: Option<u16>, targets: &[Target], work: impl Fn(&Target) -> T + Sync, told: impl FnMut(T)) {
    in_steps(jobs, targets, &Steps { think: work, write: |_: &Target, done| done }, told);
}

/// The same in two steps.
fn in_steps<U: Send, T: Send>(
    jobs: Option<u16>,
    targets: &[Target],
    steps: &Steps<impl Fn(&Target) -> U + Sync, impl Fn(&Target, U) -> T + Sync>,
    mut told: impl FnMut(T),
) {
    let progress = Progress::start(targets.len());
    let think = |at: usize| (steps.think)(&targets[at]);
    let write = |at: usize, thought: U| {
        let done = (steps.write)(&targets[at], thought);
        progress.step();
        done
    };
    let jobs = jobs.map_or(0, usize::from);
    crew(jobs, targets.len(), &Steps { think, write }, |_, done| progress.aside(|| told(done)));
}

/// What one cover has to say, for each of the two streams.
pub struct Told {
    pub out: String,
    pub error: String,
    pub exit: Exit,
}

impl Told {
    pub fn stopped(why: &str) -> Told {
        Told { out: String::new(), error: format!("jaconet: {}\n", say::visible(why)), exit: Exit::Stopped }
    }

    pub fn say(&self) {
        say::error(&self.error);
        say::out(&self.out);
    }
}

/// A first step whose fault, if there is one, waits for the second.
pub fn attempted<U>(work: impl FnOnce() -> U) -> std::thread::Result<U> {
    std::panic::catch_unwind(std::panic::AssertUnwindSafe(work))
}

/// What it came to; its fault goes on from here, to be guarded against.
pub fn attained<U>(step: std::thread::Result<U>) -> U {
    step.unwrap_or_else(|fault| std::panic::resume_unwind(fault))
}

/// A fault of our own in one cover must not take the others with it, nor end a watch.
pub fn guarded<T>(target: &Target, work: impl FnOnce() -> (Told, T)) -> (Told, T)
where
    T: Faulted,
{
    let done = std::panic::catch_unwind(std::panic::AssertUnwindSafe(work));
    done.unwrap_or_else(|_| {
        let what = "stopped by a fault of the program itself; please report it, with this cover and the lines above";
        let why = format!("{}: {what}", target.name);
        (Told::stopped(&why), T::faulted(target, why))
    })
}

/// What stands for the outcome of a cover that a fault of ours stopped.
pub trait Faulted {
    fn faulted(target: &Target, why: String) -> Self;
}

/// It waits for its cover file to change.
impl Faulted for Seen {
    fn faulted(target: &Target, _: String) -> Seen {
        withdraw_press(target);
        let disk = Disk::new(&target.folder);
        let _ = disk.read(&target.commission.path);
        disk.seen()
    }
}

pub fn findings(target: &Target, built: &Built) -> String {
    text(&target.shown, built, say::colourful())
}

/// Why a cover file did not come.
pub fn unread(target: &Target, fault: &ShelfFault) -> String {
    let near = match fault {
        ShelfFault::Missing { nearest: Some(near) } => {
            format!("; did you mean {}?", target.folder.join(near).display())
        }
        _ => String::new(),
    };
    format!("{}: {fault}{near}", target.name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Commission;

    #[test]
    fn a_fault_of_ours_stops_one_cover_and_takes_its_press_file() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let target = |name: &str| Target {
            shown: format!("{name}.kdl"),
            name: name.to_owned(),
            folder: home.path().to_owned(),
            commission: Commission::of("cover.kdl"),
            stem: name.to_owned(),
            out: home.path().to_owned(),
        };
        let targets = ["one", "two", "three"].map(target);
        let press = |name: &str| home.path().join(format!("{name}-press.pdf"));
        for target in &targets {
            std::fs::write(press(&target.stem), b"older").expect("writes");
        }
        let mut told = Vec::new();
        let steps = Steps {
            think: |target: &Target| attempted(|| assert_ne!(target.name, "two")),
            write: |target: &Target, thought| {
                let sound = || Told { out: "sound".to_owned(), error: String::new(), exit: Exit::Clean };
                guarded(target, || {
                    attained(thought);
                    (sound(), Seen::default())
                })
            },
        };
        in_steps(Some(2), &targets, &steps, |done| told.push(done.0));
        assert_eq!(told.iter().map(|told| told.exit).collect::<Vec<_>>(), [Exit::Clean, Exit::Stopped, Exit::Clean]);
        assert!(told[1].error.contains("two: stopped by a fault of the program itself; please report it"));
        assert_eq!(["one", "two", "three"].map(|name| press(name).exists()), [true, false, true]);
    }
}
