//! `jaconet watch`: builds again whenever a file of a cover changes, until Ctrl-C.
#![expect(clippy::disallowed_methods, reason = "it says how long a build took")]

use crate::cli::covers::tell;
use crate::cli::exit::Exit;
use crate::cli::flags::{CoverArgs, StoreArgs};
use crate::cli::outcome::outcome;
use crate::cli::repeats::Repeats;
use crate::cli::run::{caught, guarded, resumed};
use crate::cli::say;
use crate::cli::store::{close, keep, open};
use crate::compile::{
    BuildOptions, BuildRun, PreparedCover, Processors, Steps, Workshop, finish, prepare, work_through,
};
use crate::disk::{Seen, plain};
use crate::ground::listed;
use crate::watch::{Followed, Update, Wake, follow, watch};
use clap::Args;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::channel;
use std::time::Instant;

#[derive(Args)]
pub struct WatchArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// Where to write [default: the folder `out` beside the cover file]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    #[command(flatten)]
    pub store: StoreArgs,
}

pub fn run(args: &WatchArgs) -> Exit {
    let (mut followed, first) = match follow(args.covers.selection(args.out.as_deref())) {
        Ok(followed) => followed,
        Err((why, help)) => {
            say::stopped(&why, &help);
            return Exit::Stopped;
        }
    };
    let (sender, wakes) = channel();
    let (stop, stopping) = (sender.clone(), Arc::new(AtomicBool::new(false)));
    let flag = stopping.clone();
    // Without a handler Ctrl-C ends the process all the same, only not between two covers.
    let _ = ctrlc::set_handler(move || {
        flag.store(true, Ordering::Relaxed);
        let _ = stop.send(Wake::Stop);
    });
    let store = open(&args.store);
    let workshop = Workshop::new(keep(store.as_ref()));
    let options = BuildOptions::default();
    let mut first = Some(first);
    let mut take = |changed: &[PathBuf]| {
        let begin = Instant::now();
        let update = first.take().unwrap_or_else(|| {
            say::out(&format!("\nchanged: {}\n", names(changed)));
            followed.learn(changed)
        });
        let run = BuildRun { workshop: &workshop, store: store.as_deref(), options: &options, places: Arc::default() };
        turn(&run, &mut followed, update, &stopping);
        if !stopping.load(Ordering::Relaxed) {
            say::out(&format!("done in {} ms; waiting for changes, Ctrl-C ends\n", begin.elapsed().as_millis()));
        }
        followed.watched()
    };
    let ended = watch((sender, wakes), &mut take);
    close(store.as_ref());
    match ended {
        Ok(()) => Exit::Clean,
        Err(why) => {
            say::stopped(&why, "build once with `jaconet build`");
            Exit::Stopped
        }
    }
}

/// So many changed files are named.
const NAMED: usize = 8;

fn names(changed: &[PathBuf]) -> String {
    let mut names: Vec<String> = changed.iter().map(|place| plain(place).display().to_string()).collect();
    names.sort();
    listed(&names, NAMED)
}

/// Builds what is due, one line a cover; once it is to end, no other cover is begun.
fn turn(run: &BuildRun<'_>, followed: &mut Followed, update: Update, stopping: &AtomicBool) {
    match update.list {
        Some(Ok(list)) => {
            tell(&list);
        }
        Some(Err((why, help))) => say::stopped(&why, &help),
        None => {}
    }
    for name in update.gone {
        say::out(&format!("{name}: gone; its files are left where they are\n"));
    }
    let due = update.due;
    let mut looked: Vec<Option<Seen>> = Vec::with_capacity(due.len());
    let target = |at: usize| &followed.covers[due[at]].target;
    let prepare = |at: usize| (!stopping.load(Ordering::Relaxed)).then(|| caught(|| prepare(run, target(at))));
    let write = |at: usize, prepared: Option<std::thread::Result<PreparedCover>>, processors: Processors<'_>| {
        prepared.map(|prepared| {
            guarded(target(at), || {
                let (result, seen) = finish(run, target(at), resumed(prepared), processors);
                (outcome(target(at), &result, false).0, seen)
            })
        })
    };
    let mut repeats = Repeats::default();
    work_through(0, due.len(), &Steps { prepare, write }, |at, done| {
        looked.push(done.map(|(reply, seen)| {
            reply.say_once(&target(at).name, &mut repeats);
            seen
        }));
    });
    say::error(&repeats.summary());
    for (cover, seen) in due.into_iter().zip(looked) {
        followed.covers[cover].seen = seen;
    }
}
