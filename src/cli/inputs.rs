//! `jaconet inputs`: every file that covers read, with digests, as `sha256sum` writes them.

use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::flags::{CoverArgs, ReportArgs, WorkArgs};
use crate::cli::present::summary;
use crate::cli::reply::{Reply, unread};
use crate::cli::run::{each, guarded};
use crate::cli::say;
use crate::cli::store::{close, keep, open};
use crate::compile::{Workshop, build};
use crate::disk::{Disk, PlaceState, Seen, plain};
use crate::targets::Target;
use clap::Args;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::PathBuf;

#[derive(Args)]
pub struct InputsArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    #[command(flatten)]
    pub report: ReportArgs,
    #[command(flatten)]
    pub work: WorkArgs,
}

/// What was looked at, by the path that one would type.
type Places = BTreeMap<PathBuf, PlaceState>;

pub fn run(args: &InputsArgs) -> Exit {
    let Some((list, mut exit)) = called(&args.covers.selection(None)) else { return Exit::Stopped };
    let store = open(&args.work.store);
    let workshop = Workshop::new(keep(store.as_ref()));
    let mut all = Vec::with_capacity(list.targets.len());
    each(
        args.work.jobs,
        &list.targets,
        |target| guarded(target, || look(&workshop, target)),
        |(reply, seen)| {
            exit = exit.max(reply.exit);
            reply.say();
            all.push(seen);
        },
    );
    close(store.as_ref());
    let known_by = places(&list.seen);
    let all: Vec<Places> = list.targets.iter().zip(&all).map(|(target, seen)| whole(target, seen, &known_by)).collect();
    if args.report.for_programs() {
        let covers: Vec<Value> = list.targets.iter().zip(&all).map(|(target, places)| cover(target, places)).collect();
        let report = json!({ "covers": covers, "known-by": object(&known_by) });
        exit = exit.max(args.report.hand_over(&say::json(&format_args!("{report:#}"))));
    }
    if !args.report.for_people() {
        return exit;
    }
    // A faulty catalogue has no covers, and still is read.
    let catalogues = list.catalogues.iter().map(|(shown, _)| plain(shown.as_ref()));
    let catalogues = catalogues.filter_map(|path| known_by.get(&path).map(|state| (path, state.clone())));
    let files: Places = all.into_iter().flatten().chain(catalogues).collect();
    let lines = files.iter().filter_map(|(path, state)| match state {
        PlaceState::File(digest) => Some(line(&digest.to_string(), &path.to_string_lossy())),
        _ => None,
    });
    say::exact(&lines.collect::<String>());
    exit
}

/// Builds a cover as far as its design, where all is read that will be.
fn look(workshop: &Workshop, target: &Target) -> (Reply, Seen) {
    let disk = Disk::new(&target.folder);
    let reply = match build(workshop, &disk, &target.request) {
        Ok(built) if built.findings.has_errors() => {
            let error = format!("{}  help: `jaconet check` shows them\n", summary(&target.name, &built));
            Reply { error, ..Reply::silent(Exit::Errors) }
        }
        Ok(_) => Reply::silent(Exit::Clean),
        Err(fault) => Reply::stopped(&unread(target, &fault)),
    };
    (reply, disk.seen())
}

fn places(seen: &Seen) -> Places {
    seen.0.iter().map(|(place, state)| (plain(place), state.clone())).collect()
}

/// A title of a catalogue is also made of the catalogue's file and of its table.
fn whole(target: &Target, seen: &Seen, known_by: &Places) -> Places {
    let mut all = places(seen);
    if let Some(title) = &target.request.title {
        for path in [PathBuf::from(&target.shown), target.folder.join(&title.sheet.path)] {
            let path = plain(&path);
            all.extend(known_by.get(&path).map(|state| (path, state.clone())));
        }
    }
    all
}

fn cover(target: &Target, places: &Places) -> Value {
    let mut value = object(places);
    value["cover"] = json!(target.shown);
    value["name"] = json!(target.name);
    value
}

fn object(places: &Places) -> Value {
    let of = |wanted: fn(&PlaceState) -> bool| -> Value {
        let paths = places.iter().filter(|(_, state)| wanted(state));
        paths.map(|(path, _)| json!(path.to_string_lossy())).collect()
    };
    let file = |(path, state): (&PathBuf, &PlaceState)| match state {
        PlaceState::File(digest) => Some(json!({ "file": path.to_string_lossy(), "sha256": digest.to_string() })),
        _ => None,
    };
    json!({
        "inputs": places.iter().filter_map(file).collect::<Value>(),
        "missing": of(|state| *state == PlaceState::Missing),
        "unreadable": of(|state| *state == PlaceState::Closed),
        "folders": of(|state| matches!(state, PlaceState::Folder(_) | PlaceState::Covers(_))),
    })
}

/// As GNU coreutils 9 writes it: a name that would break the line is escaped, and a backslash before the line says so.
fn line(digest: &str, path: &str) -> String {
    let escaped = path.replace('\\', "\\\\").replace('\n', "\\n").replace('\r', "\\r");
    let mark = if escaped == path { "" } else { "\\" };
    format!("{mark}{digest}  {escaped}\n")
}
