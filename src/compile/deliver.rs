//! Deliver: the files of a build, finished and written. A cover with errors has none for the printer.

use crate::assets::Darkroom;
use crate::compile::build_run::BuildOptions;
use crate::compile::output_lists::{WrittenFile, as_made, keep_list};
use crate::compile::particulars::particulars;
use crate::disk::{Seen, Store, WriteFault, same, withdraw, write};
use crate::ground::Digest;
use crate::language::usual_settings;
use crate::output::{Output, OutputFile, OutputJob};
use crate::record::{Built, Design, OutputEntry, REPORT, report};
use crate::scene::OutputSettings;
use crate::source::Takes;
use crate::targets::Target;
use std::path::{Path, PathBuf};

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Delivered {
    /// In the order of writing.
    pub written: Vec<WrittenFile>,
    /// Older files for the printer that were taken away, for the cover has errors.
    pub withdrawn: Vec<PathBuf>,
    /// All was there already, and known to be what would be made now.
    pub unchanged: bool,
}

/// A file to be written: whole, named and summed.
pub struct FinishedFile {
    name: String,
    bytes: Vec<u8>,
    sha256: Digest,
}

/// The place of one of a cover's files, by what its name ends in.
pub fn place(target: &Target, name: &str) -> PathBuf {
    target.out.join(format!("{}-{name}", target.stem))
}

/// The bytes of every output that is wanted, and of the report.
pub fn finished_files(
    built: &Built,
    inputs: &[(String, Digest)],
    (outputs, darkroom): (&[&Output], &Darkroom),
    options: &BuildOptions,
    target: &Target,
) -> Vec<FinishedFile> {
    let finished = |OutputFile { name, bytes }: OutputFile| FinishedFile {
        name: format!("{}-{name}", target.stem),
        sha256: Digest::of_file(&bytes),
        bytes,
    };
    let mut files = made(built, (outputs, darkroom), options, finished);
    if options.wants(REPORT) {
        let entries = files.iter().map(|FinishedFile { name, bytes, sha256 }| OutputEntry {
            file: name.clone(),
            bytes: bytes.len() as u64,
            sha256: sha256.to_string(),
        });
        let entries = entries.collect();
        files.push(finished(OutputFile { name: "report.json".to_owned(), bytes: report(built, inputs, entries) }));
    }
    files
}

/// Writes the files of a build into the folder of its target.
pub fn deliver(
    built: &Built,
    files: Vec<FinishedFile>,
    seen: &Seen,
    target: &Target,
    (outputs, store, options): (&[&Output], Option<&Store>, &BuildOptions),
) -> Result<Delivered, WriteFault> {
    let mut delivered = Delivered::default();
    if built.findings.has_errors() {
        delivered.withdrawn = withdraw_for_press(target, outputs)?;
    }
    for FinishedFile { name, bytes, sha256 } in files {
        let path = target.out.join(name);
        if reads(seen, &path) {
            let why = "the cover reads it; write into another folder, with --out".to_owned();
            return Err(WriteFault { path, why });
        }
        write(&path, &bytes)?;
        if let Some(store) = store {
            store.file_put(&bytes, sha256);
        }
        delivered.written.push(WrittenFile { path, bytes: bytes.len() as u64, sha256 });
    }
    if built.design.is_some() {
        clear(target, &wanted(outputs, options), seen, &delivered.written)?;
    }
    keep_list(target, &delivered.written)?;
    Ok(delivered)
}

/// Takes away all that could be sent to the printer, whatever is wanted now: it must not outlive the errors of its cover.
pub fn withdraw_for_press(target: &Target, outputs: &[&Output]) -> Result<Vec<PathBuf>, WriteFault> {
    let mut withdrawn = Vec::new();
    for path in outputs.iter().filter(|output| output.for_press).flat_map(|output| places(target, output)) {
        if withdraw(&path)? {
            withdrawn.push(path);
        }
    }
    Ok(withdrawn)
}

/// The same where a cover could not be finished; nobody is there any more to hear of a disk that refuses.
pub fn withdraw_unfinished(target: &Target, outputs: &[&Output]) {
    let _ = withdraw_for_press(target, outputs);
}

/// Takes away the files that a cover has no longer, of the outputs that were wanted. True when there were any.
pub fn clear(target: &Target, outputs: &[&Output], seen: &Seen, written: &[WrittenFile]) -> Result<bool, WriteFault> {
    let mut cleared = false;
    for output in outputs {
        let older = places(target, output).into_iter();
        let older = older.filter(|path| !reads(seen, path) && !written.iter().any(|written| written.path == *path));
        for path in older {
            cleared |= withdraw(&path)?;
        }
    }
    Ok(cleared)
}

/// Where files of an output may stand. One whose name the cover chose is known by the list of what was made.
fn places(target: &Target, output: &Output) -> Vec<PathBuf> {
    let fixed = output.fixed_files().map(|name| place(target, name));
    if output.fixed_files().count() == output.files.len() {
        return fixed.collect();
    }
    let head = format!("{}-", target.stem);
    let is_chosen = |name: &str| name.strip_prefix(&head).is_some_and(|name| output.chosen_file(name));
    fixed.chain(as_made(target, is_chosen)).collect()
}

/// Whether a place to write at is a file that the cover is made of.
pub fn reads(seen: &Seen, path: &Path) -> bool {
    seen.0.keys().any(|place| place.file_name() == path.file_name() && same(place, path))
}

/// The outputs that a run asks for.
pub fn wanted<'a>(outputs: &[&'a Output], options: &BuildOptions) -> Vec<&'a Output> {
    outputs.iter().copied().filter(|output| options.wants(output.word.name)).collect()
}

/// What a cover chose of an output, or else what is usual.
pub fn chosen_settings(design: &Design, output: &Output) -> OutputSettings {
    design.delivery.get(output.word.name).copied().unwrap_or_else(|| usual_settings(&output.word))
}

/// All that is wanted and may be had, finished. The press file is made beside the pictures: it has little in common with
/// them, while pictures made side by side would each draw the same cover.
fn made(
    built: &Built,
    (outputs, darkroom): (&[&Output], &Darkroom),
    options: &BuildOptions,
    finished: impl Fn(OutputFile) -> FinishedFile + Sync,
) -> Vec<FinishedFile> {
    let Some(design) = &built.design else { return Vec::new() };
    let faulty = built.findings.has_errors();
    let particulars = &particulars(built);
    let settings = |output: &Output| {
        let chosen = chosen_settings(design, output);
        let chooses = |word: &&str| {
            output.word.takes.iter().any(|slot| matches!(slot.takes, Takes::Choice(words) if words.contains(word)))
        };
        let word = options.word.filter(chooses);
        OutputSettings { word: word.unwrap_or(chosen.word), ..chosen }
    };
    let wanted = wanted(outputs, options).into_iter();
    let named = |output: &Output| !options.only.is_empty() || design.delivery.contains_key(output.word.name);
    let wanted = wanted.filter(|output| !output.on_request || named(output));
    let wanted = wanted.filter(|output| output.media.holds(&design.scene.sheet) && !(faulty && output.for_press));
    let (press, pictures): (Vec<&Output>, Vec<&Output>) = wanted.partition(|output| output.for_press);
    let row = |outputs: Vec<&Output>| -> Vec<FinishedFile> {
        let files = outputs.into_iter().flat_map(|output| {
            let settings = &settings(output);
            let findings = &built.findings;
            (output.write)(&OutputJob { scene: &design.scene, findings, particulars, settings, darkroom })
        });
        files.map(&finished).collect()
    };
    let (mut files, pictures) = rayon::join(|| row(press), || row(pictures));
    files.extend(pictures);
    files
}
