//! Tries: facts tried out on a cover, told as what they would change. Nothing is written.

use crate::cli::build::{Faulted, Told, each, guarded};
use crate::cli::compare::{Form, told};
use crate::cli::design::{Source, load};
use crate::cli::exit::Exit;
use crate::cli::say::stopped;
use crate::compile::Workshop;
use crate::targets::{Target, attempt};

/// Tells of every cover what the facts would change; the exit is that of the covers as they would be.
pub fn run(workshop: &Workshop, targets: &[Target], tries: &[String], form: Form, jobs: Option<u16>) -> Exit {
    let text = match attempt(tries) {
        Ok(text) => text,
        Err((why, help)) => {
            stopped(&why, &help);
            return Exit::Stopped;
        }
    };
    let shown = format!("with {}", tries.join(", "));
    let mut exit = Exit::Clean;
    let one = |target: &Target| {
        let mut tried = target.clone();
        tried.commission.tried = Some(text.clone());
        let old = load(workshop, &Source::Cover(target.clone()));
        match old.and_then(|old| Ok((old, load(workshop, &Source::Cover(tried))?))) {
            Err(why) => (Told::stopped(&why), ()),
            Ok((_, new)) if !new.refused.is_empty() => {
                (Told::stopped(&format!("--try: {}", new.refused.join("; "))), ())
            }
            Ok((old, mut new)) => {
                new.shown.clone_from(&shown);
                (told(&old, &new, form), ())
            }
        }
    };
    each(
        jobs,
        targets,
        |target| guarded(target, || one(target)),
        |(told, ())| {
            told.say();
            exit = exit.max(told.exit);
        },
    );
    exit
}

impl Faulted for () {
    fn faulted(_: &Target, _: String) {}
}
