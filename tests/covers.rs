//! Covers: one idea a file, `topic-case.kdl`, with the findings it expects and the frames it should have, beside the
//! marks it leaves.
//!
//! Under a line stand the findings expected there, their carets under the words they point at:
//! `//^^^^ error: message | help`. After an element may stand the frame that follows from the meaning of its words, as
//! sums of millimetres from the trim's corner: `// at 129+19.8+5 5 119 30`, `*` where words decide. `// pixels front 30`
//! keeps a picture of a panel at so many pixels per inch. What is found in a file beside the cover stands at the end:
//! `// in art/copy.md:2:5+3 error: …`. `BLESS=1` rewrites findings, `.scene` and `.png`, never `at`.
#![expect(clippy::disallowed_methods, reason = "it reads and blesses golden files")]

use jaconet::testing::{CoverTester, Item, Mark, Origin, Scene, TestedFinding};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

#[path = "kit/sums.rs"]
mod sums;

/// Sums are written to the hundredth.
const CLOSE: f64 = 0.006;
/// Largest difference of a golden picture's channel: converting colours may round either way.
const CLOSE_PIXEL: u8 = 3;
const GOLDEN_PICTURE_LIMIT: usize = 32 << 10;

#[test]
fn every_cover_says_and_draws_what_is_awaited() {
    let trial = CoverTester::default();
    let art = art();
    let mut faults = String::new();
    for path in files("kdl") {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        for fault in prove(&trial, &art, &path) {
            writeln!(faults, "{name}: {fault}").expect("a string takes every line");
        }
    }
    assert!(faults.is_empty(), "\n{faults}\nread the differences, then `BLESS=1 cargo test`");
}

#[test]
fn no_golden_is_left_behind() {
    for ending in ["scene", "png"] {
        for golden in files(ending) {
            assert!(golden.with_extension("kdl").exists(), "{} has no cover", golden.display());
        }
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/covers")
}

fn files(ending: &str) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder()).expect("the covers are there").flatten();
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
    files.retain(|path| path.extension().is_some_and(|end| end == ending));
    files.sort();
    files
}

/// What stands beside every cover: `art/…`.
fn art() -> BTreeMap<String, Vec<u8>> {
    let entries = std::fs::read_dir(folder().join("art")).expect("the art is there").flatten();
    let named = |entry: std::fs::DirEntry| {
        let name = format!("art/{}", entry.file_name().to_string_lossy());
        (name, std::fs::read(entry.path()).expect("art can be read"))
    };
    entries.map(named).collect()
}

fn prove(trial: &CoverTester, art: &BTreeMap<String, Vec<u8>>, path: &Path) -> Vec<String> {
    let text = std::fs::read_to_string(path).expect("a cover can be read");
    let bare = bare(&text);
    let tried = trial.build(&bare, art.iter().map(|(path, bytes)| (path.as_str(), &bytes[..])));
    let mut faults = golden(path, text.as_bytes(), annotated(&bare, &tried.notes).as_bytes());
    let Some(scene) = &tried.scene else { return faults };
    faults.extend(frames(&bare, scene));
    let outline = path.with_extension("scene");
    if tried.faulty() {
        if outline.exists() {
            faults.push("a cover with errors keeps no marks".to_owned());
        }
        return faults;
    }
    faults.extend(golden(&outline, &std::fs::read(&outline).unwrap_or_default(), scene.outline().as_bytes()));
    if let Some((panel, ppi)) = pixels(&bare) {
        let made = trial.files(scene, ppi).into_iter().find(|(name, _)| *name == format!("{panel}.png"));
        let (_, made) = made.expect("the panel has a picture");
        faults.extend(picture(&path.with_extension("png"), &made));
    }
    faults
}

/// The cover without the findings expected in it.
fn bare(text: &str) -> String {
    let lines = text.lines().filter(|line| !is_note(line));
    lines.map(|line| line.to_owned() + "\n").collect()
}

fn is_note(line: &str) -> bool {
    let Some(tail) = line.trim_start().strip_prefix("//") else { return false };
    // One in another file stands at the end, with its place there.
    let words = match tail.strip_prefix(" in ") {
        Some(place) => place.find(' ').map_or("", |end| &place[end..]),
        None => tail.trim_start_matches('^'),
    };
    ["error", "warning", "note"].iter().any(|severity| words.starts_with(&format!(" {severity}: ")))
}

fn annotated(bare: &str, notes: &[TestedFinding]) -> String {
    let mut out = String::new();
    for (at, line) in bare.lines().enumerate() {
        out.push_str(line);
        out.push('\n');
        for note in notes.iter().filter(|note| note.file.is_empty() && note.line == at + 1) {
            let carets = "^".repeat(note.columns.saturating_sub(2));
            let indent = " ".repeat(note.column - 1);
            writeln!(out, "{indent}//{carets} {}: {} | {}", note.severity, note.message, note.help)
                .expect("a string takes every line");
        }
    }
    for note in notes.iter().filter(|note| !note.file.is_empty()) {
        let TestedFinding { file, line, column, columns, severity, message, help, .. } = note;
        writeln!(out, "// in {file}:{line}:{column}+{columns} {severity}: {message} | {help}")
            .expect("a string takes every line");
    }
    out
}

fn golden(path: &Path, old: &[u8], new: &[u8]) -> Vec<String> {
    if old == new {
        return Vec::new();
    }
    if std::env::var_os("BLESS").is_some() {
        std::fs::write(path, new).expect("a golden can be written");
        return Vec::new();
    }
    let (old, new) = (String::from_utf8_lossy(old), String::from_utf8_lossy(new));
    let mut said = vec![format!("{} differs", path.file_name().unwrap_or_default().display())];
    said.extend(old.lines().filter(|line| !new.lines().any(|other| other == *line)).map(|line| format!("- {line}")));
    said.extend(new.lines().filter(|line| !old.lines().any(|other| other == *line)).map(|line| format!("+ {line}")));
    said
}

/// Every frame that a cover states with `// at`, against the scene's. What stands in a part is drawn at every `use`,
/// and has a frame for each.
fn frames(text: &str, scene: &Scene) -> Vec<String> {
    let mut found = Vec::new();
    gather(&scene.items, &mut found);
    found.dedup_by(|one, other| Arc::ptr_eq(one, other));
    let mut faults = Vec::new();
    for (at, line) in text.lines().enumerate() {
        let here = |origin: &&Arc<Origin>| text[..origin.span.start].matches('\n').count() == at;
        let mut drawn = found.iter().filter(here);
        for stated in line.split("// at ").skip(1) {
            let sums: Vec<&str> = stated.split_whitespace().collect();
            assert_eq!(sums.len(), 4, "line {}: left, top, width, height", at + 1);
            let Some(origin) = drawn.next() else {
                faults.push(format!("line {} draws nothing, or not often enough", at + 1));
                continue;
            };
            let frame = origin.frame;
            let is = [frame.x0, frame.y0, frame.width(), frame.height()];
            for ((sum, is), what) in sums.iter().zip(is).zip(["left", "top", "width", "height"]) {
                let Some(should) = sums::value(sum) else { continue };
                if (should - is).abs() > CLOSE {
                    faults.push(format!("line {}: {what} is {is:.3}, should be {sum} = {should:.3}", at + 1));
                }
            }
        }
    }
    faults
}

fn gather(items: &[Item], found: &mut Vec<Arc<Origin>>) {
    for item in items {
        found.push(item.origin.clone());
        if let Mark::Group(group) = &item.mark {
            gather(&group.items, found);
        }
    }
}

fn pixels(text: &str) -> Option<(&str, f64)> {
    let line = text.lines().find_map(|line| line.strip_prefix("// pixels "))?;
    let (panel, ppi) = line.split_once(' ')?;
    Some((panel, ppi.parse().ok()?))
}

fn picture(path: &Path, made: &[u8]) -> Vec<String> {
    let old = std::fs::read(path).unwrap_or_default();
    let close = |old: &[u8], new: &[u8]| {
        old.len() == new.len() && old.iter().zip(new).all(|(old, new)| old.abs_diff(*new) <= CLOSE_PIXEL)
    };
    if matches!((decoded(&old), decoded(made)), (Some(old), Some(new)) if close(&old, &new)) {
        return Vec::new();
    }
    if std::env::var_os("BLESS").is_some() {
        assert!(made.len() <= GOLDEN_PICTURE_LIMIT, "{} is too large to keep", path.display());
        std::fs::write(path, made).expect("a golden can be written");
        return Vec::new();
    }
    vec!["the picture differs".to_owned()]
}

/// Width and height, then the samples.
fn decoded(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().ok()?;
    let mut samples = vec![0; reader.output_buffer_size()?];
    let info = reader.next_frame(&mut samples).ok()?;
    samples.truncate(info.buffer_size());
    samples.extend(info.width.to_be_bytes().into_iter().chain(info.height.to_be_bytes()));
    Some(samples)
}
