//! Trial: what facts that are tried would change on each cover. Nothing is written.

use crate::cli::compare::{changes, comparisons};
use crate::cli::design::{DesignSource, load};
use crate::cli::exit::Exit;
use crate::cli::flags::{ReportArgs, TrialArgs};
use crate::cli::reply::Reply;
use crate::cli::run::{each, guarded};
use crate::cli::say::stopped;
use crate::compile::Workshop;
use crate::targets::{Target, trial};
use serde_json::Value;

/// Says of every cover what the facts would change; the exit is that of the covers as they would be.
pub fn run(workshop: &Workshop, targets: &[Target], typed: &TrialArgs, report: &ReportArgs, jobs: Option<u16>) -> Exit {
    let text = match trial(&typed.facts) {
        Ok(text) => text,
        Err((why, help)) => {
            stopped(&why, &help);
            return Exit::Stopped;
        }
    };
    let shown = format!("with {}", typed.facts.join(", "));
    let one = |target: &Target| -> (Reply, Option<Value>) {
        let mut tried = target.clone();
        tried.request.trial = Some(text.clone());
        let old = load(workshop, &DesignSource::Cover(target.clone()));
        match old.and_then(|old| Ok((old, load(workshop, &DesignSource::Cover(tried))?))) {
            Err(why) => (Reply::stopped(&why), None),
            Ok((_, new)) if !new.refused.is_empty() => {
                (Reply::stopped(&format!("--try: {}", new.refused.join("; "))), None)
            }
            Ok((old, mut new)) => {
                new.shown.clone_from(&shown);
                let (reply, value, _) = changes(&old, &new);
                (reply, Some(value))
            }
        }
    };
    let (mut exit, mut values) = (Exit::Clean, Vec::new());
    each(
        jobs,
        targets,
        |target| guarded(target, || one(target)),
        |(reply, value)| {
            exit = exit.max(reply.exit);
            if report.for_people() || reply.exit == Exit::Stopped {
                reply.say();
            }
            values.extend(value);
        },
    );
    if report.for_programs() {
        exit = exit.max(report.hand_over(&comparisons(&values)));
    }
    exit
}
