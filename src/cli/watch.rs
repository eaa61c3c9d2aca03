//! `jaconet watch`: builds again whenever a file of a cover changes, until Ctrl-C.
#![expect(clippy::disallowed_methods, reason = "it says how long a build took")]

use crate::build::{
    Followed, Look, News, Order, Seen, Shop, Steps, Wake, Workshop, crew, finish, follow, shown, think, watch,
};
use crate::cli::args::WatchArgs;
use crate::cli::build::{attained, attempted, guarded};
use crate::cli::covers::tell;
use crate::cli::exit::Exit;
use crate::cli::outcome::outcome;
use crate::cli::say;
use crate::cli::store::{close, keep};
use std::path::PathBuf;
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
    let stop = sender.clone();
    // Without a handler Ctrl-C ends the process all the same, only not between two covers.
    let _ = ctrlc::set_handler(move || {
        let _ = stop.send(Wake::Stop);
    });
    let store = args.store.open();
    let workshop = Workshop::new(keep(store.as_ref()));
    let order = Order::default();
    let mut first = Some(first);
    let mut take = |changed: &[PathBuf]| {
        let begin = Instant::now();
        let news = first.take().unwrap_or_else(|| {
            let names: Vec<String> = changed.iter().map(|place| shown(place, &followed.covers)).collect();
            say::out(&format!("\nchanged: {}\n", say::visible(&names.join(", "))));
            followed.hear(changed)
        });
        let look = Look::default();
        let shop = Shop { workshop: &workshop, store: store.as_deref(), order: &order, look: &look };
        turn(&shop, &mut followed, news);
        say::out(&format!("done in {} ms; waiting for changes, Ctrl-C ends\n", begin.elapsed().as_millis()));
        followed.seen()
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

/// Builds what is due, one line a cover.
fn turn(shop: &Shop<'_>, followed: &mut Followed, news: News) {
    match news.told {
        Some(Ok(roster)) => {
            tell(&roster);
        }
        Some(Err((why, help))) => say::stopped(&why, &help),
        None => {}
    }
    for name in news.gone {
        say::out(&say::visible(&format!("{name}: gone; what was built of it is left\n")));
    }
    let due = news.due;
    let mut looked: Vec<Seen> = Vec::with_capacity(due.len());
    let target = |at: usize| &followed.covers[due[at]].target;
    let think = |at: usize| attempted(|| think(shop, target(at)));
    let write = |at: usize, thought| {
        guarded(target(at), || {
            let (made, seen) = finish(shop, target(at), attained(thought));
            (outcome(target(at), &made, false).0, seen)
        })
    };
    crew(0, due.len(), &Steps { think, write }, |_, (told, seen)| {
        told.say();
        looked.push(seen);
    });
    for (cover, seen) in due.into_iter().zip(looked) {
        followed.covers[cover].seen = Some(seen);
    }
}
