//! Known: a cover whose inputs are all as they were when it was built is known without setting a line.
//!
//! Two records lead there: by what is asked for, the places that its last build looked at; by those places as they stand
//! now, what was found and made. Paths are relative, so a store may travel with its covers.

mod kept;
mod look;

pub use look::Look;

use crate::assets::Shelf as _;
use crate::compile::deliver::{clear, press_file, reads};
use crate::compile::{Delivered, Order, Written};
use crate::disk::State;
use crate::disk::{Disk, Seen, Store};
use crate::disk::{settle, withdraw, write};
use crate::ground::Digest;
use crate::record::Built;
use crate::source::{Files, unmarked};
use crate::targets::Target;
use kept::Kept;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// What a build found and made.
#[derive(Serialize, Deserialize)]
struct Outcome {
    findings: Vec<Kept>,
    left_out: usize,
    /// The files that findings point into, as they were numbered.
    files: Vec<String>,
    outputs: Vec<Output>,
    errors: bool,
}

#[derive(Serialize, Deserialize)]
struct Output {
    file: String,
    bytes: u64,
    sha256: Digest,
}

/// How an output stood when it was written or last compared: who left it so has not touched it.
#[derive(PartialEq, Serialize, Deserialize)]
struct Stamp {
    sha256: Digest,
    bytes: u64,
    /// Of its bytes, and of anything about it.
    times: [i128; 2],
}

/// Remembers a build.
pub fn remember(store: &Store, target: &Target, order: &Order, seen: &Seen, built: &Built, delivered: &Delivered) {
    let Some(own) = seen.0.get(&target.folder.join(&target.commission.path)) else { return };
    let asked = asked(target, order, own);
    let Some(places) = places(seen, &target.folder) else { return };
    let Some(findings) = built.findings.iter().map(|finding| Kept::new(finding, built)).collect::<Option<Vec<_>>>()
    else {
        return;
    };
    let files = (0..).map_while(|file| built.files.path(crate::ground::FileId(file))).collect();
    let outputs = delivered.written.iter().filter_map(|written| {
        let file = written.path.file_name()?.to_str()?.to_owned();
        Some(Output { file, bytes: written.bytes, sha256: written.sha256 })
    });
    let outputs: Vec<Output> = outputs.collect();
    let errors = built.findings.has_errors();
    let outcome = Outcome { findings, left_out: built.findings.left_out(), files, outputs, errors };
    let now: Vec<(&str, &State)> = places.iter().map(|(path, state)| (path.as_str(), state)).collect();
    store.record_put(with(asked, &now), &outcome);
    store.record_put(asked, &places);
    stamp(store, target, &delivered.written);
}

/// What a build would find and make, when all that it would look at stands as it was; its files are put back where they
/// are missing. `None`: it must be built.
pub fn recall(store: &Store, target: &Target, order: &Order, look: &Look) -> Option<(Built, Delivered, Seen)> {
    let own = look.again(&target.folder.join(&target.commission.path), &State::Missing);
    let asked = asked(target, order, &own);
    let places: Vec<(String, State)> = store.record_get(asked)?;
    let now: Vec<State> = places.iter().map(|(path, was)| look.again(&target.folder.join(path), was)).collect();
    let named: Vec<(&str, &State)> = places.iter().map(|(path, _)| path.as_str()).zip(&now).collect();
    let outcome: Outcome = store.record_get(with(asked, &named))?;
    let built = told(&outcome, target)?;
    let places = places.iter().zip(now).map(|((path, _), state)| (target.folder.join(path), state));
    let seen = Seen(places.collect());
    let mut delivered = Delivered { unchanged: true, ..Delivered::default() };
    let stamps: Vec<(String, Stamp)> = store.record_get(stamped(target)).unwrap_or_default();
    for output in &outcome.outputs {
        let path = target.out.join(&output.file);
        if reads(&seen, &path) {
            return None;
        }
        let is_known = stamps.iter().any(|(file, stamp)| *file == output.file && stands(&path, stamp, output));
        settle(&path);
        if !is_known && !look::holds(&path, output.sha256, output.bytes) {
            write(&path, &store.file_get(output.sha256, output.bytes)?).ok()?;
            delivered.unchanged = false;
        }
        delivered.written.push(Written { path, bytes: output.bytes, sha256: output.sha256 });
    }
    if outcome.errors {
        let press = press_file(target);
        if withdraw(&press).ok()? {
            delivered.withdrawn = Some(press);
            delivered.unchanged = false;
        }
    }
    if clear(target, &seen, &delivered.written).ok()? {
        delivered.unchanged = false;
    }
    stamp(store, target, &delivered.written);
    Some((built, delivered, seen))
}

/// All that is asked for, wherever it lies, and the cover file itself.
fn asked(target: &Target, order: &Order, own: &State) -> Digest {
    Digest::of_all(&[b"asked", request(target).bytes(), format!("{order:?}{own:?}").as_bytes()])
}

/// What a target asks for, without the files that it is made of.
pub fn request(target: &Target) -> Digest {
    let commission = &target.commission;
    let row = commission.listed.as_ref().map(|listed| {
        let columns: Vec<&str> = listed.sheet.table.columns.iter().map(|column| column.value.as_str()).collect();
        let span = listed.row().map_or(0..0, |row| row.span.start..row.span.end);
        let text = listed.sheet.text.get(span).unwrap_or_default();
        // One text says other cells when the table's separator is another.
        let cells = listed.row().map(|row| row.cells.iter().map(|cell| cell.whole.value.as_str()).collect::<Vec<_>>());
        let faults: Vec<&String> = listed.faults.iter().map(|fault| &fault.message).collect();
        (&listed.sheet.path, columns, text, cells, faults)
    });
    let asked = format!("{:?}", (&commission.path, &commission.edition, &commission.tried, row, &target.stem));
    Digest::of(asked.as_bytes())
}

fn with(asked: Digest, places: &[(&str, &State)]) -> Digest {
    Digest::of_all(&[asked.bytes(), format!("{places:?}").as_bytes()])
}

/// The places that were looked at, from the cover's folder.
fn places(seen: &Seen, folder: &Path) -> Option<Vec<(String, State)>> {
    let within = |(place, state): (&PathBuf, &State)| {
        let path = place.strip_prefix(folder).ok()?.to_str()?.to_owned();
        Some((path, state.clone()))
    };
    seen.0.iter().map(within).collect()
}

/// The findings with the texts they point into, which are as they were.
fn told(outcome: &Outcome, target: &Target) -> Option<Built> {
    let files = Files::default();
    if !outcome.findings.is_empty() {
        let disk = Disk::new(&target.folder);
        for path in &outcome.files {
            let listed = target.commission.listed.as_ref().filter(|listed| listed.sheet.path == *path);
            match listed {
                Some(listed) => files.add(path, listed.sheet.text.clone()),
                None => files.add(path, String::from_utf8_lossy(unmarked(&disk.read(path).unwrap_or_default()))),
            };
        }
    }
    let mut built = Built {
        files,
        findings: crate::ground::Findings::default(),
        design: None,
        commission: target.commission.clone(),
    };
    for kept in &outcome.findings {
        let finding = kept.finding(&built)?;
        built.findings.push(finding);
    }
    // What is beyond the limit was only counted; such a cover is built again.
    (outcome.left_out == 0).then_some(built)
}

fn stamped(target: &Target) -> Digest {
    let out = target.out.to_string_lossy();
    Digest::of_all(&[b"stamps", out.as_bytes(), target.stem.as_bytes()])
}

fn stamp(store: &Store, target: &Target, written: &[Written]) {
    let stamps = written.iter().filter_map(|written| {
        let file = written.path.file_name()?.to_str()?.to_owned();
        let (bytes, times) = look::times(&written.path)?;
        Some((file, Stamp { sha256: written.sha256, bytes, times }))
    });
    let stamps: Vec<(String, Stamp)> = stamps.collect();
    if store.record_get::<Vec<(String, Stamp)>>(stamped(target)).as_ref() != Some(&stamps) {
        store.record_put(stamped(target), &stamps);
    }
}

fn stands(path: &Path, stamp: &Stamp, output: &Output) -> bool {
    stamp.sha256 == output.sha256
        && stamp.bytes == output.bytes
        && look::times(path) == Some((stamp.bytes, stamp.times))
}
