//! Specimen: families of fonts drawn side by side, or one of them closely. It is a cover like any other.

use crate::assets::MapShelf;
use crate::cli::kin::Kin;
use crate::compile::{Workshop, build};
use crate::ground::{Findings, MM_PER_INCH, Severity};
use crate::language::usual_settings;
use crate::output::{OUTPUTS, OutputJob, Particulars};
use crate::record::CoverRequest;
use crate::scene::OutputSettings;
use std::fmt::Write as _;

/// The highest front that a cover may have, in millimetres.
const TALLEST: f64 = 1000.0;
/// Half a gigabyte while they are drawn: all bundled families at 450 to the inch.
const MOST_PIXELS: f64 = 36e6;
/// Features of one family that are shown.
const MOST_FEATURES: usize = 60;
const FILE: &str = "specimen.kdl";
const WIDTH: f64 = 200.0;

/// A PNG; or why there is none, and a way out.
pub fn specimen(shelf: MapShelf, kin: &[Kin<'_>], ppi: f64) -> Result<Vec<u8>, (String, String)> {
    let rows = if let [only] = kin { closely(only) } else { beside(kin) };
    if rows.height() > TALLEST {
        let why = format!("a specimen of {} rows is higher than {TALLEST} mm, the highest picture", rows.count);
        let help = match kin {
            [_] => "put some of the family's files into another folder",
            _ => "name some of the families with --family",
        };
        return Err((why, help.to_owned()));
    }
    let area = WIDTH * rows.height() / MM_PER_INCH.powi(2);
    if area * ppi * ppi > MOST_PIXELS {
        let millions = MOST_PIXELS / 1e6;
        let why =
            format!("a specimen of {} rows has more than {millions} million pixels at {ppi} to the inch", rows.count);
        let help =
            format!("take `--ppi {}`, or name some of the families with --family", (MOST_PIXELS / area).sqrt().floor());
        return Err((why, help));
    }
    let text = rows.cover();
    let built = build(&Workshop::default(), &shelf.with(FILE, text.as_bytes()), &CoverRequest::of(FILE));
    let built = built.map_err(|fault| (fault.to_string(), String::new()))?;
    // A letter that a font has not shows as none; what was not understood is no specimen.
    let not_read = |rule: &str| rule == "language" || rule == "file";
    let mut errors = built.findings.iter().filter(|finding| finding.severity == Severity::Error);
    if let Some(error) = errors.find(|finding| not_read(finding.rule)) {
        let why = format!("the specimen cannot be drawn: {}", error.message);
        return Err((why, error.help.clone().unwrap_or_default()));
    }
    let scene = built.design.map(|design| design.scene);
    let output = OUTPUTS.iter().find(|output| output.word.name == "panels");
    let made = scene.zip(output).map(|(scene, output)| {
        (output.write)(&OutputJob {
            scene: &scene,
            findings: &Findings::default(),
            particulars: &Particulars::default(),
            settings: &OutputSettings { ppi, ..usual_settings(&output.word) },
            darkroom: &Workshop::default().darkroom,
        })
    });
    let front = made.into_iter().flatten().find(|file| file.name == "front.png");
    let none = || ("the specimen cannot be drawn".to_owned(), "name one family with --family".to_owned());
    front.map(|file| file.bytes.whole().into_owned()).ok_or_else(none)
}

/// The texts of a specimen, row by row.
struct Rows {
    text: String,
    y: f64,
    count: usize,
}

impl Rows {
    /// A row of words with what is said of it in the margin, so many points high.
    fn row(&mut self, label: &str, words: &str, style: &str, points: f64) {
        let mm = points * 0.3528;
        self.y += mm * 1.25 + 1.0;
        self.count += 1;
        let (at, y) = (self.count, self.y);
        let quoted = |words: &str| format!("\"{}\"", words.replace('\\', "\\\\").replace('"', "\\\""));
        if !label.is_empty() {
            let label = quoted(label);
            let _ =
                writeln!(self.text, "text label{at} words={label} {{ size 7.5; left 8; width 40; baseline trim {y} }}");
        }
        let words = quoted(words);
        let _ = writeln!(
            self.text,
            "text row{at} words={words} {{ {style}; size between 4 {points}; hyphenate #false; left 50; right 8; height {mm}; baseline trim {y} }}"
        );
        self.y += mm * 0.45;
    }

    fn height(&self) -> f64 {
        (self.y + 10.0).max(20.0)
    }

    fn cover(self) -> String {
        let height = self.height();
        format!(
            "book {{ title \"Specimen\"; pages 64 }}\nformat paperback {{ trim {WIDTH} {height}; paper caliper=0.1; safe 5 }}\npanel front {{\n{}}}\n",
            self.text
        )
    }
}

fn beside(kin: &[Kin<'_>]) -> Rows {
    let mut rows = Rows { text: String::new(), y: 4.0, count: 0 };
    for kin in kin {
        for (at, face) in kin.faces.iter().enumerate() {
            let label = if at == 0 { kin.family } else { "" };
            let words = format!("{} {}", words_for(kin), slope(face.weight(), face.italic()));
            rows.row(label, &words, &font(kin.family, face.weight(), face.italic()), 15.0);
        }
        rows.y += 2.0;
    }
    rows
}

fn closely(kin: &Kin<'_>) -> Rows {
    let mut rows = Rows { text: String::new(), y: 4.0, count: 0 };
    let plain = kin.faces.first().map_or(400, |face| face.weight());
    rows.row(kin.family, kin.family, &font(kin.family, plain, false), 44.0);
    for (label, words) in [
        ("capitals", "ABCDEFGHIJKLMNOPQRSTUVWXYZ"),
        ("small letters", "abcdefghijklmnopqrstuvwxyz"),
        ("figures and signs", "0123456789 & ! ? ( ) * – — “ ” ‘ ’ « » § † @"),
        ("words", words_for(kin)),
    ] {
        rows.row(label, words, &font(kin.family, plain, false), 20.0);
    }
    rows.y += 3.0;
    for face in &kin.faces {
        let (least, most) = face.weights().unwrap_or((face.weight(), face.weight()));
        for weight in (least..=most).step_by(100) {
            let label = format!("weight {weight}{}", if face.italic() { ", italic" } else { "" });
            rows.row(&label, words_for(kin), &font(kin.family, weight, face.italic()), 15.0);
        }
    }
    rows.y += 3.0;
    for tag in kin.features().iter().filter(|tag| !ALWAYS.contains(&tag.as_str())).take(MOST_FEATURES) {
        let style = format!("{}; features \"{tag}\"", font(kin.family, plain, false));
        rows.row(&format!("feature {tag}"), FEATURED, &style, 13.0);
    }
    rows
}

/// Features that shape letters without being asked, and `aalt`, a list of all others (OpenType's registered tags): to turn
/// them on shows nothing.
const ALWAYS: [&str; 23] = [
    "aalt", "abvm", "abvs", "akhn", "blwm", "blws", "calt", "ccmp", "clig", "curs", "fina", "init", "isol", "kern",
    "liga", "locl", "mark", "medi", "mkmk", "rclt", "rlig", "rvrn", "rand",
];
/// What most features change something of.
const FEATURED: &str = "Quick Affable RAGS 0123456789 1/2 2nd (fi st) &";

fn font(family: &str, weight: u16, italic: bool) -> String {
    let family = family.replace('\\', "\\\\").replace('"', "\\\"");
    format!("font \"{family}\" weight={weight} italic=#{italic}")
}

fn slope(weight: u16, italic: bool) -> String {
    if italic { format!("{weight} italic") } else { weight.to_string() }
}

/// Words that show a family in its own script.
fn words_for(kin: &Kin<'_>) -> &'static str {
    let has = |letter: char| kin.faces.iter().any(|face| face.glyph(letter).is_some());
    match () {
        () if has('か') => "塩とランタンの港 Salt & Lanterns",
        () if has('ب') => "الملح والفوانيس Salt & Lanterns",
        () if has('א') => "מלח ופנסים Salt & Lanterns",
        () if has('a') => "Salt & Lanterns on the quay, 1790–1832",
        () => "ΑΒΓ АБВ 123",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Library;

    /// Thirty families of many faces are more than the highest front holds; so are a hundred of one.
    #[test]
    fn what_cannot_be_drawn_is_said() {
        let (library, _) = Library::open(&[]);
        let kin = |family| Kin { family, faces: library.faces("EB Garamond") };
        assert!(kin("EB Garamond").faces.len() > 3);
        let all: Vec<Kin<'_>> = (0..30).map(|_| kin("EB Garamond")).collect();
        let (why, help) = specimen(MapShelf::default(), &all, 50.0).expect_err("too many rows");
        assert!(why.contains("150 rows") && help.contains("--family"), "{why} {help}");
        let (why, _) = specimen(MapShelf::default(), &[kin("Nobody’s")], 50.0).expect_err("no such family");
        assert!(why.contains("there is no font \"Nobody’s\""), "{why}");
        // PNG (ISO/IEC 15948): the signature.
        let picture = specimen(MapShelf::default(), &[kin("EB Garamond")], 50.0).expect("a picture");
        assert!(picture.starts_with(b"\x89PNG"));
    }
}
