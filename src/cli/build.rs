//! `jaconet build`: many covers at once, told in the order they were typed.

use crate::assets::ShelfFault;
use crate::build::{Built, Delivered, Disk, Order, Seen, Workshop, build, deliver};
use crate::cli::args::BuildArgs;
use crate::cli::exit::Exit;
use crate::cli::present::{summary, text};
use crate::cli::progress::Progress;
use crate::cli::say;
use crate::cli::store::{close, keep};
use crate::cli::target::{Target, targets};
use crate::cli::{compare, tries};
use rayon::prelude::*;

pub fn run(args: &BuildArgs) -> Exit {
    let Some(targets) = targets(&args.files, args.out.as_deref()) else { return Exit::Stopped };
    let order = Order { only: args.only.clone(), surround: args.surround.map(Into::into) };
    let store = args.store.open();
    let workshop = Workshop::new(keep(store.as_ref()));
    if !args.tries.is_empty() {
        let exit = tries::run(&workshop, &targets, &args.tries, compare::Form::Text, args.jobs);
        say::out("nothing is written: facts were tried only\n");
        close(store.as_ref());
        return exit;
    }
    let exit = say_all(&each(args.jobs, &targets, |target| one(&workshop, target, &order).0));
    close(store.as_ref());
    exit
}

/// Works on every target, on so many threads; the results stand in the order of the targets.
pub fn each<T: Send>(jobs: Option<u16>, targets: &[Target], work: impl Fn(&Target) -> T + Sync) -> Vec<T> {
    // Zero lets the pool count the processors.
    let pool = rayon::ThreadPoolBuilder::new().num_threads(jobs.map_or(0, usize::from)).build();
    let progress = Progress::start(targets.len());
    let counted = |target: &Target| {
        let done = work(target);
        progress.step();
        done
    };
    match pool {
        Ok(pool) => pool.install(|| targets.par_iter().map(counted).collect()),
        // No threads to be had: one after the other.
        Err(_) => targets.iter().map(counted).collect(),
    }
}

/// Says what every cover has to say, in the order in which they were typed.
pub fn say_all(all: &[Told]) -> Exit {
    for told in all {
        say::error(&told.error);
        say::out(&told.out);
    }
    all.iter().map(|told| told.exit).max().unwrap_or(Exit::Clean)
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
}

/// Builds and writes one cover; also says what it looked at.
pub fn one(workshop: &Workshop, target: &Target, order: &Order) -> (Told, Seen) {
    let disk = Disk::new(&target.folder);
    let told = guarded(target, || match build(workshop, &disk, &target.commission) {
        Err(fault) => Told::stopped(&unread(target, &fault)),
        Ok(built) => {
            let told = deliver(&built, &disk.inputs(), &workshop.darkroom, order, &target.out, &target.stem);
            let (out, stopped) = match told {
                Ok(delivered) => (written(&delivered) + &summary(&target.shown, &built), None),
                Err(fault) => (String::new(), Some(Told::stopped(&fault.to_string()))),
            };
            let exit = stopped.as_ref().map_or(Exit::from(&built.findings), |stopped| stopped.exit);
            let error = findings(target, &built) + &stopped.map_or(String::new(), |stopped| stopped.error);
            Told { out, error, exit }
        }
    });
    (told, disk.seen())
}

/// A fault of our own in one cover must not take the others with it, nor end a watch.
pub fn guarded(target: &Target, work: impl FnOnce() -> Told) -> Told {
    let done = std::panic::catch_unwind(std::panic::AssertUnwindSafe(work));
    done.unwrap_or_else(|_| Told::stopped(&format!("{}: stopped by a fault of the program itself", target.shown)))
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
    format!("{}: {fault}{near}", target.shown)
}

fn written(delivered: &Delivered) -> String {
    let lines = delivered.written.iter().map(|(path, bytes)| format!("{}  {}\n", path.display(), size(*bytes)));
    let withdrawn = delivered.withdrawn.iter();
    let withdrawn = withdrawn.map(|path| format!("{}  withdrawn: the cover has errors\n", path.display()));
    lines.chain(withdrawn).collect()
}

fn size(bytes: u64) -> String {
    const KB: f64 = 1000.0;
    let bytes = bytes as f64;
    if bytes < KB * KB { format!("{:.1} kB", bytes / KB) } else { format!("{:.1} MB", bytes / KB / KB) }
}
