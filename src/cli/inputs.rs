//! `jaconet inputs`: every file that covers read, with digests, as `sha256sum` writes them.

use crate::cli::args::Summary;
use crate::cli::build::{Told, each, guarded, unread};
use crate::cli::covers::{CoverArgs, called};
use crate::cli::exit::Exit;
use crate::cli::present::summary;
use crate::cli::say;
use crate::cli::store::{WorkArgs, close, keep};
use crate::compile::{Workshop, build};
use crate::disk::{Disk, Seen, State, plain};
use crate::targets::Target;
use clap::Args;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::PathBuf;

#[derive(Args)]
pub struct InputsArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// For `sha256sum --check`, or for programs: one JSON object with the files of each cover, and
    /// what was looked for and is not there
    #[arg(long, value_name = "FORM", default_value = "text")]
    pub report: Summary,
    #[command(flatten)]
    pub work: WorkArgs,
}

/// What was looked at, by the path that one would type.
type Places = BTreeMap<PathBuf, State>;

pub fn run(args: &InputsArgs) -> Exit {
    let Some((roster, mut exit)) = called(&args.covers.wish(None)) else { return Exit::Stopped };
    let store = args.work.store.open();
    let workshop = Workshop::new(keep(store.as_ref()));
    let mut all = Vec::with_capacity(roster.targets.len());
    each(
        args.work.jobs,
        &roster.targets,
        |target| guarded(target, || look(&workshop, target)),
        |(told, seen)| {
            told.say();
            exit = exit.max(told.exit);
            all.push(seen);
        },
    );
    close(store.as_ref());
    let known_by = places(&roster.seen);
    let all: Vec<Places> =
        roster.targets.iter().zip(&all).map(|(target, seen)| whole(target, seen, &known_by)).collect();
    if args.report == Summary::Json {
        let covers: Vec<Value> =
            roster.targets.iter().zip(&all).map(|(target, places)| cover(target, places)).collect();
        let told = json!({ "covers": covers, "known-by": object(&known_by) });
        say::out(&say::json(&format_args!("{told:#}")));
        return exit;
    }
    // A faulty catalogue has no covers, and still is read.
    let catalogues = roster.told.iter().map(|(shown, _)| plain(shown.as_ref()));
    let catalogues = catalogues.filter_map(|path| known_by.get(&path).map(|state| (path, state.clone())));
    let files: Places = all.into_iter().flatten().chain(catalogues).collect();
    let lines = files.iter().filter_map(|(path, state)| match state {
        State::File(digest) => Some(line(&digest.to_string(), &path.to_string_lossy())),
        _ => None,
    });
    say::exact(&lines.collect::<String>());
    exit
}

/// Builds a cover as far as its design, where all is read that will be.
fn look(workshop: &Workshop, target: &Target) -> (Told, Seen) {
    let disk = Disk::new(&target.folder);
    let told = match build(workshop, &disk, &target.commission) {
        Ok(built) if built.findings.has_errors() => {
            let error = format!("{}  help: `jaconet check` tells them\n", summary(&target.name, &built));
            Told { out: String::new(), error, exit: Exit::Errors }
        }
        Ok(_) => Told { out: String::new(), error: String::new(), exit: Exit::Clean },
        Err(fault) => Told::stopped(&unread(target, &fault)),
    };
    (told, disk.seen())
}

fn places(seen: &Seen) -> Places {
    seen.0.iter().map(|(place, state)| (plain(place), state.clone())).collect()
}

/// A title of a catalogue is also made of the catalogue's file and of its table.
fn whole(target: &Target, seen: &Seen, known_by: &Places) -> Places {
    let mut all = places(seen);
    if let Some(listed) = &target.commission.listed {
        for path in [PathBuf::from(&target.shown), target.folder.join(&listed.sheet.path)] {
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
    let of = |wanted: fn(&State) -> bool| -> Value {
        let paths = places.iter().filter(|(_, state)| wanted(state));
        paths.map(|(path, _)| json!(path.to_string_lossy())).collect()
    };
    let file = |(path, state): (&PathBuf, &State)| match state {
        State::File(digest) => Some(json!({ "file": path.to_string_lossy(), "sha256": digest.to_string() })),
        _ => None,
    };
    json!({
        "inputs": places.iter().filter_map(file).collect::<Value>(),
        "missing": of(|state| *state == State::Missing),
        "unreadable": of(|state| *state == State::Closed),
        "folders": of(|state| matches!(state, State::Folder(_) | State::Covers(_))),
    })
}

/// As GNU coreutils 9 writes it: a name that would break the line is escaped, and a backslash before the line says so.
fn line(digest: &str, path: &str) -> String {
    let escaped = path.replace('\\', "\\\\").replace('\n', "\\n").replace('\r', "\\r");
    let mark = if escaped == path { "" } else { "\\" };
    format!("{mark}{digest}  {escaped}\n")
}
