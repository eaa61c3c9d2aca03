//! Testing: a cover whose text awaits its own findings, under the words they point at.
//!
//! ```kdl
//! bleed 10pt
//!       //^^ error: `10pt` is no number
//! ```

use crate::assets::MapShelf;
use crate::build::{Commission, Disk, Workshop, build};
use crate::raster::plates;
use std::fmt::Write as _;
use std::path::Path;

/// A trimmed sheet ink by ink, 255 is solid, row by row: the process plates by their names, then the spots.
pub struct Sheet {
    pub width: usize,
    pub height: usize,
    pub plates: Vec<(String, Vec<u8>)>,
}

/// Draws the cover of a folder as its pictures are drawn, for a comparison with its press file. `None` when the cover
/// cannot be read.
pub fn draw_plates(folder: &Path, ppi: f64) -> Option<Sheet> {
    let workshop = Workshop::default();
    let scene = build(&workshop, &Disk::new(folder), &Commission::of("cover.kdl")).ok()?.design?.scene;
    let drawn = plates(&scene, scene.sheet.trim, ppi, &workshop.darkroom);
    let process = ["Cyan", "Magenta", "Yellow", "Black"].map(str::to_owned).into_iter().zip(drawn.process);
    let spots = drawn.spots.into_iter().map(|(spot, plane)| (spot.name.clone(), plane));
    Some(Sheet { width: drawn.width, height: drawn.height, plates: process.chain(spots).collect() })
}

/// One finding, placed: line, first column, columns, `severity: message`.
type Note = (usize, usize, usize, String);

/// Builds a cover that finds these files beside it, and compares its findings with the awaited ones, exactly. `Err`
/// says how they differ.
pub fn compare_findings(text: &str, files: &[(&str, &[u8])]) -> Result<(), String> {
    let shelf = files.iter().fold(MapShelf::default(), |shelf, (path, bytes)| shelf.with(path, *bytes));
    let shelf = shelf.with("cover.kdl", text.as_bytes());
    let built = build(&Workshop::default(), &shelf, &Commission::of("cover.kdl")).map_err(|fault| fault.to_string())?;
    let mut found: Vec<Note> = Vec::new();
    for finding in built.findings.iter() {
        let file = built.files.text(finding.span.file).unwrap_or_default();
        let (line, column) = built.files.line_column(finding.span).unwrap_or((1, 1));
        let pointed = file.get(finding.span.start..finding.span.end).unwrap_or_default();
        // The slashes alone point at two columns, and no caret reaches beyond its line.
        let columns = pointed.lines().next().unwrap_or_default().chars().count().max(SLASHES);
        found.push((line, column, columns, format!("{}: {}", finding.severity.word(), finding.message)));
    }
    let mut awaited = awaited(text);
    found.sort();
    awaited.sort();
    if found == awaited {
        return Ok(());
    }
    let mut said = String::new();
    for (title, notes, others) in [("found, not awaited", &found, &awaited), ("awaited, not found", &awaited, &found)] {
        for (line, column, columns, words) in notes.iter().filter(|note| !others.contains(note)) {
            writeln!(said, "{title}: line {line}, columns {column} to {}: {words}", column + columns - 1)
                .expect("a string takes every line");
        }
    }
    if said.is_empty() {
        "a finding is told more often than awaited".clone_into(&mut said);
    }
    Err(said)
}

const SLASHES: usize = 2;

/// Several comments may stand under one line; each points at the last line that is none.
fn awaited(text: &str) -> Vec<Note> {
    let mut notes = Vec::new();
    let mut above = 0;
    for (at, line) in text.lines().enumerate() {
        match note(line) {
            Some((column, columns, words)) => notes.push((above, column, columns, words.to_owned())),
            None => above = at + 1,
        }
    }
    notes
}

fn note(line: &str) -> Option<(usize, usize, &str)> {
    let begin = line.find("//").filter(|begin| line[..*begin].trim().is_empty())?;
    let tail = &line[begin + SLASHES..];
    let words = tail.trim_start_matches('^');
    let columns = SLASHES + tail.len() - words.len();
    let words = words.strip_prefix(' ')?;
    let severity = words.split_once(": ")?.0;
    matches!(severity, "info" | "warning" | "error").then_some((line[..begin].chars().count() + 1, columns, words))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str) -> Result<(), String> {
        compare_findings(text, &[])
    }

    #[test]
    fn an_awaited_finding_passes_and_any_other_does_not() {
        assert_eq!(check("bleed 10pt\n      //^^ error: `10pt` is no number\n"), Ok(()));
        let said = check("bleed 10pt\n      //^^^ error: `10pt` is no number\n").expect_err("a caret too many");
        assert!(said.contains("awaited, not found: line 1, columns 7 to 11"), "{said}");
        assert!(check("bleed 10pt\n").is_err());
        assert!(check("bleed 10pt\n      //^^ warning: `10pt` is no number\n").is_err());
    }
}
