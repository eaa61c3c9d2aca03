//! `jaconet watch`: builds again whenever a file of a cover changes, until Ctrl-C.
#![expect(clippy::disallowed_methods, reason = "it says how long a build took")]

use crate::cli::args::WatchArgs;
use crate::cli::build::{attained, attempted, guarded};
use crate::cli::covers::tell;
use crate::cli::exit::Exit;
use crate::cli::outcome::outcome;
use crate::cli::say;
use crate::cli::store::{close, keep};
use crate::compile::{Look, Order, Shop, Steps, Thought, Workshop, crew, finish, think};
use crate::disk::{Seen, plain};
use crate::watch::{Followed, News, Wake, follow, watch};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::channel;
use std::time::Instant;

pub fn run(args: &WatchArgs) -> Exit {
    let (mut followed, first) = match follow(args.covers.wish(args.out.as_deref())) {
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
    let store = args.store.open();
    let workshop = Workshop::new(keep(store.as_ref()));
    let order = Order::default();
    let mut first = Some(first);
    let mut take = |changed: &[PathBuf]| {
        let begin = Instant::now();
        let news = first.take().unwrap_or_else(|| {
            say::out(&format!("\nchanged: {}\n", names(changed)));
            followed.hear(changed)
        });
        let look = Look::default();
        let shop = Shop { workshop: &workshop, store: store.as_deref(), order: &order, look: &look };
        turn(&shop, &mut followed, news, &stopping);
        if !stopping.load(Ordering::Relaxed) {
            say::out(&format!("done in {} ms; waiting for changes, Ctrl-C ends\n", begin.elapsed().as_millis()));
        }
        followed.sights()
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
    names.dedup();
    let more = names.len().saturating_sub(NAMED);
    names.truncate(NAMED);
    names.join(", ") + &if more > 0 { format!(" and {more} more") } else { String::new() }
}

/// Builds what is due, one line a cover; once it is to end, no other cover is begun.
fn turn(shop: &Shop<'_>, followed: &mut Followed, news: News, stopping: &AtomicBool) {
    match news.told {
        Some(Ok(roster)) => {
            tell(&roster);
        }
        Some(Err((why, help))) => say::stopped(&why, &help),
        None => {}
    }
    for name in news.gone {
        say::out(&format!("{name}: gone; what was built of it is left\n"));
    }
    let due = news.due;
    let mut looked: Vec<Option<Seen>> = Vec::with_capacity(due.len());
    let target = |at: usize| &followed.covers[due[at]].target;
    let think = |at: usize| (!stopping.load(Ordering::Relaxed)).then(|| attempted(|| think(shop, target(at))));
    let write = |at: usize, thought: Option<std::thread::Result<Thought>>| {
        thought.map(|thought| {
            guarded(target(at), || {
                let (made, seen) = finish(shop, target(at), attained(thought));
                (outcome(target(at), &made, false).0, seen)
            })
        })
    };
    crew(0, due.len(), &Steps { think, write }, |_, done| {
        looked.push(done.map(|(told, seen)| {
            told.say();
            seen
        }));
    });
    for (cover, seen) in due.into_iter().zip(looked) {
        followed.covers[cover].seen = seen;
    }
}
