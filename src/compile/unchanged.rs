//! Unchanged: a cover whose inputs are all as they were when it was built is known without setting a line.
//!
//! Two records lead there: by what is asked for, the places that its last build looked at; by those places as they stand
//! now, what was found and made. Paths are relative, so a store may travel with its covers.

mod stored_finding;

use crate::assets::{Glance, Shelf as _};
use crate::compile::build_run::BuildRun;
use crate::compile::deliver::{Delivered, clear, reads, wanted, withdraw_for_press};
use crate::compile::output_lists::{WrittenFile, keep_list};
use crate::disk::{Disk, PlaceState, Seen, Store, holds, settle, times, write};
use crate::ground::Digest;
use crate::record::Built;
use crate::source::{Files, unmarked};
use crate::targets::Target;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use stored_finding::StoredFinding;

/// What a build found and made.
#[derive(Serialize, Deserialize)]
struct KnownBuild {
    findings: Vec<StoredFinding>,
    left_out: usize,
    /// The files that findings point into, as they were numbered.
    files: Vec<String>,
    outputs: Vec<KnownFile>,
    errors: bool,
    /// There was a design to make files of.
    designed: bool,
}

#[derive(Serialize, Deserialize)]
struct KnownFile {
    file: String,
    bytes: u64,
    sha256: Digest,
}

/// How an output stood when it was written or last compared: who left it so has not touched it.
#[derive(PartialEq, Serialize, Deserialize)]
struct FileStamp {
    sha256: Digest,
    bytes: u64,
    /// Of its bytes, and of anything about it.
    times: [i128; 2],
}

/// Remembers a build.
pub fn remember(store: &Store, target: &Target, run: &BuildRun<'_>, seen: &Seen, built: &Built, delivered: &Delivered) {
    let Some(own) = seen.0.get(&target.folder.join(&target.request.path)) else { return };
    let asked = asked(target, run, own);
    let Some(places) = places(seen, &target.folder) else { return };
    let Some(findings) =
        built.findings.iter().map(|finding| StoredFinding::new(finding, built)).collect::<Option<Vec<_>>>()
    else {
        return;
    };
    let files = (0..).map_while(|file| built.files.path(crate::ground::FileId(file))).collect();
    let outputs = delivered.written.iter().filter_map(|written| {
        let file = written.path.file_name()?.to_str()?.to_owned();
        Some(KnownFile { file, bytes: written.bytes, sha256: written.sha256 })
    });
    let outputs: Vec<KnownFile> = outputs.collect();
    let errors = built.findings.has_errors();
    let designed = built.design.is_some();
    let known = KnownBuild { findings, left_out: built.findings.left_out(), files, outputs, errors, designed };
    let now: Vec<(&str, &PlaceState)> = places.iter().map(|(path, state)| (path.as_str(), state)).collect();
    store.record_put(with(asked, &now), &known);
    store.record_put(asked, &places);
    stamp(store, target, &delivered.written);
}

/// What a build would find and make, when all that it would look at stands as it was; its files are put back where they
/// are missing. `None`: it must be built.
pub fn recall(store: &Store, target: &Target, run: &BuildRun<'_>) -> Option<(Built, Delivered, Seen)> {
    let outputs = run.workshop.outputs;
    let own = run.places.look(&target.folder.join(&target.request.path), Glance::File);
    let asked = asked(target, run, &own);
    let places: Vec<(String, PlaceState)> = store.record_get(asked)?;
    let now: Vec<PlaceState> =
        places.iter().map(|(path, was)| run.places.look(&target.folder.join(path), was.glance())).collect();
    let named: Vec<(&str, &PlaceState)> = places.iter().map(|(path, _)| path.as_str()).zip(&now).collect();
    let known: KnownBuild = store.record_get(with(asked, &named))?;
    let built = as_built(&known, target)?;
    let places = places.iter().zip(now).map(|((path, _), state)| (target.folder.join(path), state));
    let seen = Seen(places.collect());
    let mut delivered = Delivered { unchanged: true, ..Delivered::default() };
    let stamps: Vec<(String, FileStamp)> = store.record_get(stamped(target)).unwrap_or_default();
    for output in &known.outputs {
        let path = target.out.join(&output.file);
        if reads(&seen, &path) {
            return None;
        }
        let is_known = stamps.iter().any(|(file, stamp)| *file == output.file && stands(&path, stamp, output));
        settle(&path);
        if !is_known && !holds(&path, output.sha256, output.bytes) {
            write(&path, &store.file_get(output.sha256, output.bytes)?).ok()?;
            delivered.unchanged = false;
        }
        delivered.written.push(WrittenFile { path, bytes: output.bytes, sha256: output.sha256 });
    }
    if known.errors {
        delivered.withdrawn = withdraw_for_press(target, outputs).ok()?;
        delivered.unchanged &= delivered.withdrawn.is_empty();
    }
    if known.designed {
        let wanted = wanted(outputs, run.options);
        delivered.unchanged &= !clear(target, &wanted, &seen, &delivered.written).ok()?;
    }
    keep_list(target, &delivered.written).ok()?;
    stamp(store, target, &delivered.written);
    Some((built, delivered, seen))
}

/// All that is asked for, wherever it lies, and the cover file itself.
fn asked(target: &Target, run: &BuildRun<'_>, own: &PlaceState) -> Digest {
    let outputs: Vec<&str> = run.workshop.outputs.iter().map(|output| output.word.name).collect();
    let stated = format!("{:?}{own:?}{outputs:?}", run.options);
    Digest::of_all(&[b"asked", request(target).bytes(), stated.as_bytes()])
}

/// What a target asks for, without the files that it is made of.
pub fn request(target: &Target) -> Digest {
    let request = &target.request;
    let row = request.title.as_ref().map(|title| {
        let columns: Vec<&str> = title.sheet.table.columns.iter().map(|column| column.value.as_str()).collect();
        let span = title.row().map_or(0..0, |row| row.span.start..row.span.end);
        let text = title.sheet.text.text().get(span).unwrap_or_default();
        // One text says other cells when the table's separator is another.
        let cells = title.row().map(|row| row.cells.iter().map(|cell| cell.whole.value.as_str()).collect::<Vec<_>>());
        let faults: Vec<&String> = title.faults.iter().map(|fault| &fault.message).collect();
        (&title.sheet.path, columns, text, cells, faults, title.is_undrawn)
    });
    let asked = format!("{:?}", (&request.path, &request.edition, &request.trial, request.strict, row, &target.stem));
    Digest::of(asked.as_bytes())
}

fn with(asked: Digest, places: &[(&str, &PlaceState)]) -> Digest {
    Digest::of_all(&[asked.bytes(), format!("{places:?}").as_bytes()])
}

/// The places that were looked at, from the cover's folder.
fn places(seen: &Seen, folder: &Path) -> Option<Vec<(String, PlaceState)>> {
    let within = |(place, state): (&PathBuf, &PlaceState)| {
        let path = place.strip_prefix(folder).ok()?.to_str()?.to_owned();
        Some((path, state.clone()))
    };
    seen.0.iter().map(within).collect()
}

/// The findings with the texts they point into, which are as they were.
fn as_built(known: &KnownBuild, target: &Target) -> Option<Built> {
    let files = Files::default();
    if !known.findings.is_empty() {
        let disk = Disk::new(&target.folder);
        for path in &known.files {
            let title = target.request.title.as_ref().filter(|title| title.sheet.path == *path);
            match title {
                Some(title) => files.add(path, title.sheet.text.clone()),
                None => files.add(path, String::from_utf8_lossy(unmarked(&disk.read(path).unwrap_or_default()))),
            };
        }
    }
    let mut built =
        Built { files, findings: crate::ground::Findings::default(), design: None, request: target.request.clone() };
    for stored in &known.findings {
        let finding = stored.finding(&built)?;
        built.findings.push(finding);
    }
    // What is beyond the limit was only counted; such a cover is built again.
    (known.left_out == 0).then_some(built)
}

fn stamped(target: &Target) -> Digest {
    let out = target.out.to_string_lossy();
    Digest::of_all(&[b"stamps", out.as_bytes(), target.stem.as_bytes()])
}

fn stamp(store: &Store, target: &Target, written: &[WrittenFile]) {
    let stamps = written.iter().filter_map(|written| {
        let file = written.path.file_name()?.to_str()?.to_owned();
        let (bytes, times) = times(&written.path)?;
        Some((file, FileStamp { sha256: written.sha256, bytes, times }))
    });
    let stamps: Vec<(String, FileStamp)> = stamps.collect();
    if store.record_get::<Vec<(String, FileStamp)>>(stamped(target)).as_ref() != Some(&stamps) {
        store.record_put(stamped(target), &stamps);
    }
}

fn stands(path: &Path, stamp: &FileStamp, output: &KnownFile) -> bool {
    stamp.sha256 == output.sha256 && stamp.bytes == output.bytes && times(path) == Some((stamp.bytes, stamp.times))
}
