//! Specimen: families of fonts drawn side by side, or one of them closely. It is a cover like any other.

use crate::assets::MapShelf;
use crate::cli::kin::Kin;
use crate::compile::{Workshop, build};
use crate::ground::Findings;
use crate::language::usual_settings;
use crate::output::{OUTPUTS, OutputJob, Particulars};
use crate::record::CoverRequest;
use crate::scene::OutputSettings;
use std::fmt::Write as _;

/// Families in one picture.
pub const MOST: usize = 40;
/// Features of one family that are shown.
const MOST_FEATURES: usize = 60;
const FILE: &str = "specimen.kdl";
const WIDTH: f64 = 200.0;

/// A PNG.
pub fn specimen(shelf: MapShelf, kin: &[Kin<'_>], ppi: f64) -> Vec<u8> {
    let text = if let [only] = kin { closely(only) } else { beside(kin) };
    let built = build(&Workshop::default(), &shelf.with(FILE, text.as_bytes()), &CoverRequest::of(FILE));
    let scene = built.ok().and_then(|built| built.design).map(|design| design.scene);
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
    front.map(|file| file.bytes).unwrap_or_default()
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

    fn cover(self) -> String {
        let height = (self.y + 10.0).max(20.0);
        format!(
            "book {{ title \"Specimen\"; pages 64 }}\nformat paperback {{ trim {WIDTH} {height}; paper caliper=0.1; safe 5 }}\npanel front {{\n{}}}\n",
            self.text
        )
    }
}

fn beside(kin: &[Kin<'_>]) -> String {
    let mut rows = Rows { text: String::new(), y: 4.0, count: 0 };
    for kin in kin {
        for (at, face) in kin.faces.iter().enumerate() {
            let label = if at == 0 { kin.family } else { "" };
            let words = format!("{} {}", words_for(kin), slope(face.weight(), face.italic()));
            rows.row(label, &words, &font(kin.family, face.weight(), face.italic()), 15.0);
        }
        rows.y += 2.0;
    }
    rows.cover()
}

fn closely(kin: &Kin<'_>) -> String {
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
    rows.cover()
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
