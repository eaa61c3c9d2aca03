//! Deliver: the files of a build, finished and written. A cover with errors has none for the printer.

use crate::compile::build_run::{BuildOptions, BuildRun};
use crate::compile::output_lists::{WrittenFile, as_made, keep_list};
use crate::compile::particulars::particulars;
use crate::disk::{Seen, WriteFault, same, withdraw, write_pieces};
use crate::ground::{Digest, Pieces};
use crate::language::usual_settings;
use crate::output::{Output, OutputFile, OutputJob};
use crate::record::{Built, Design, OutputEntry, REPORT, report};
use crate::scene::OutputSettings;
use crate::source::Takes;
use crate::targets::Target;
use rayon::prelude::*;
use std::panic::resume_unwind;
use std::path::{Path, PathBuf};
use std::thread::{Builder, ScopedJoinHandle};

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
    /// The place of its output in the list of them.
    output: usize,
    name: String,
    bytes: Pieces,
    sha256: Digest,
}

impl FinishedFile {
    fn new(target: &Target, output: usize, OutputFile { name, bytes }: OutputFile) -> FinishedFile {
        let sha256 = Digest::of_pieces(bytes.slices());
        FinishedFile { output, name: format!("{}-{name}", target.stem), bytes, sha256 }
    }
}

/// The place of one of a cover's files, by what its name ends in.
pub fn place(target: &Target, name: &str) -> PathBuf {
    target.out.join(format!("{}-{name}", target.stem))
}

/// Files of a cover that are written side by side.
const AT_A_TIME: usize = 8;

/// The files of a build on their way into the folder of its target.
pub struct FilesOnTheirWay<'a> {
    built: &'a Built,
    seen: &'a Seen,
    run: &'a BuildRun<'a>,
    target: &'a Target,
    withdrawn: Vec<PathBuf>,
    written: Vec<(usize, WrittenFile)>,
}

impl<'a> FilesOnTheirWay<'a> {
    pub fn begin(
        built: &'a Built,
        seen: &'a Seen,
        run: &'a BuildRun<'a>,
        target: &'a Target,
    ) -> Result<FilesOnTheirWay<'a>, WriteFault> {
        let faulty = built.findings.has_errors();
        let withdrawn = if faulty { withdraw_for_press(target, run.workshop.outputs)? } else { Vec::new() };
        Ok(FilesOnTheirWay { built, seen, run, target, withdrawn, written: Vec::new() })
    }

    /// Side by side: most of the time a disk is waited for.
    pub fn write(&mut self, mut files: Vec<FinishedFile>) -> Result<(), WriteFault> {
        let (out, seen, store) = (&self.target.out, self.seen, self.run.store);
        if let Some(path) = files.iter().map(|file| out.join(&file.name)).find(|path| reads(seen, path)) {
            let why = "the cover reads it; write into another folder, with --out".to_owned();
            return Err(WriteFault { path, why });
        }
        let written = &|FinishedFile { output, name, bytes, sha256 }: &FinishedFile| {
            let path = out.join(name);
            write_pieces(&path, bytes)?;
            if let Some(store) = store {
                store.file_put(bytes, *sha256);
            }
            Ok((*output, WrittenFile { path, bytes: bytes.length(), sha256: *sha256 }))
        };
        while !files.is_empty() {
            let files: Vec<FinishedFile> = files.drain(..files.len().min(AT_A_TIME)).collect();
            let written: Vec<_> = std::thread::scope(|scope| {
                let writer = |file| Builder::new().spawn_scoped(scope, move || written(file));
                let writers: Vec<_> = files.iter().map(|file| (file, writer(file))).collect();
                let done = |(file, writer): (&FinishedFile, std::io::Result<ScopedJoinHandle<'_, _>>)| match writer {
                    Ok(writer) => writer.join().unwrap_or_else(|panic| resume_unwind(panic)),
                    // A machine without another thread to spare.
                    Err(_) => written(file),
                };
                writers.into_iter().map(done).collect()
            });
            let mut fault = None;
            for file in written {
                match file {
                    Ok(file) => self.written.push(file),
                    Err(own) => fault = fault.or(Some(own)),
                }
            }
            fault.map_or(Ok(()), Err)?;
        }
        Ok(())
    }

    /// Writes the report, if it is wanted, and takes away what the cover has no longer.
    pub fn end(mut self, inputs: &[(String, Digest)]) -> Result<Delivered, WriteFault> {
        let (outputs, options) = (self.run.workshop.outputs, self.run.options);
        self.written.sort_by_key(|(output, _)| *output);
        if options.wants(REPORT) {
            let entries = self.written.iter().map(|(_, file)| OutputEntry {
                file: file.path.file_name().unwrap_or_default().to_string_lossy().into_owned(),
                bytes: file.bytes,
                sha256: file.sha256.to_string(),
            });
            let bytes = report(self.built, inputs, entries.collect());
            let file = OutputFile { name: "report.json".to_owned(), bytes: bytes.into() };
            self.write(vec![FinishedFile::new(self.target, outputs.len(), file)])?;
        }
        let written: Vec<WrittenFile> = self.written.into_iter().map(|(_, file)| file).collect();
        if self.built.design.is_some() {
            clear(self.target, &wanted(outputs, options), self.seen, &written)?;
        }
        keep_list(self.target, &written)?;
        Ok(Delivered { written, withdrawn: self.withdrawn, unchanged: false })
    }
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

/// Outputs that are made together, and those that are made when these are written.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum MakingTurn {
    /// The press file and the first pictures.
    First,
    /// All others.
    Then,
}

/// The bytes of what is wanted, may be had, and has its turn.
pub fn finished_files(built: &Built, run: &BuildRun<'_>, target: &Target, turn: MakingTurn) -> Vec<FinishedFile> {
    let Some(design) = &built.design else { return Vec::new() };
    let darkroom = &run.workshop.darkroom;
    let particulars = &particulars(built);
    let mut rows = rows(built, design, run);
    let rest = rows.split_off(rows.len().min(FIRST_ROWS));
    let rows = if turn == MakingTurn::First { rows } else { rest };
    let files = rows.into_par_iter().flat_map_iter(|row| {
        row.into_iter().flat_map(|(place, output, settings)| {
            let (scene, findings, settings) = (&design.scene, &built.findings, &settings);
            let files = (output.write)(&OutputJob { scene, findings, particulars, settings, darkroom });
            files.into_iter().map(move |file| FinishedFile::new(target, place, file))
        })
    });
    files.collect()
}

/// The press file, and the pictures of the first resolution that is wanted.
const FIRST_ROWS: usize = 2;

/// What is wanted and may be had, in rows that are made side by side, the press file's first. Pictures of one resolution
/// stand in one row: side by side each would draw the same cover.
fn rows<'a>(built: &Built, design: &Design, run: &BuildRun<'a>) -> Vec<Vec<(usize, &'a Output, OutputSettings)>> {
    let options = run.options;
    let mut rows = vec![Vec::new()];
    let mut resolutions = Vec::new();
    for (place, output) in run.workshop.outputs.iter().copied().enumerate() {
        let chosen = chosen_settings(design, output);
        let chooses = |word: &&str| {
            output.word.takes.iter().any(|slot| matches!(slot.takes, Takes::Choice(words) if words.contains(word)))
        };
        let word = options.word.filter(chooses).unwrap_or(chosen.word);
        let settings = OutputSettings { word, ..chosen };
        let named = !options.only.is_empty() || design.delivery.contains_key(output.word.name);
        let is_wanted = options.wants(output.word.name) && (!output.on_request || named);
        if !is_wanted || !output.media.holds(&design.scene.sheet) || (output.for_press && built.findings.has_errors()) {
            continue;
        }
        let row = if output.for_press {
            0
        } else {
            let known = resolutions.iter().position(|ppi: &f64| ppi.to_bits() == settings.ppi.to_bits());
            1 + known.unwrap_or_else(|| {
                resolutions.push(settings.ppi);
                rows.push(Vec::new());
                resolutions.len() - 1
            })
        };
        rows[row].push((place, output, settings));
    }
    rows
}
