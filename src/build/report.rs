//! Report: what a build found and made, as JSON. No clock and no path of the machine: same cover, same bytes.

use crate::assets::{Font, Model};
use crate::build::Built;
use crate::build::stages::Measure;
use crate::ground::{Colour, Digest, FileId, Finding, MM_PER_INCH, Rect, Severity, Spot};
use crate::scene::{GlyphRun, Mark, Placed, Scene};
use crate::source::Files;
use serde::Serialize;
use std::collections::BTreeMap;
use std::sync::Arc;

#[derive(Serialize)]
struct Report<'a> {
    jaconet: &'static str,
    cover: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    sheet: Option<Sheet>,
    measures: &'a [Measure],
    inputs: Vec<Input>,
    fonts: Vec<Face>,
    pictures: Vec<Image>,
    inks: Inks,
    findings: Vec<Told>,
    /// How many findings came after the limit.
    unlisted: usize,
    outputs: Vec<Output>,
}

/// A file that was written.
#[derive(Clone, Debug, Serialize)]
pub struct Output {
    pub file: String,
    pub bytes: u64,
    pub sha256: String,
}

/// A finding with its line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Told {
    pub severity: Severity,
    pub rule: &'static str,
    pub file: String,
    pub line: usize,
    pub column: usize,
    pub message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<String>,
    /// Where it shows on the sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Area>,
}

/// Millimetres from the upper left corner of the trim.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Area {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
}

#[derive(Serialize)]
struct Sheet {
    trim: Area,
    bleed: Area,
    panels: Vec<Panel>,
    folds: Vec<f64>,
}

#[derive(Serialize)]
struct Panel {
    name: &'static str,
    #[serde(flatten)]
    area: Area,
}

#[derive(Serialize)]
struct Input {
    file: String,
    sha256: String,
}

#[derive(Serialize)]
struct Face {
    name: String,
    family: String,
    weight: u16,
    italic: bool,
    embedding: &'static str,
    sha256: String,
}

#[derive(Serialize)]
struct Image {
    file: String,
    pixels: [u32; 2],
    model: Model,
    #[serde(flatten)]
    area: Area,
    ppi: f64,
    sha256: String,
}

#[derive(Default, Serialize)]
struct Inks {
    /// Of cyan, magenta, yellow and black, those that print.
    process: Vec<&'static str>,
    spots: Vec<Plate>,
}

#[derive(Serialize)]
struct Plate {
    name: String,
    finishing: bool,
    look: [f64; 4],
}

/// The report's bytes.
pub fn report(built: &Built, inputs: &[(String, Digest)], outputs: Vec<Output>) -> Vec<u8> {
    let scene = built.design.as_ref().map(|design| &design.scene);
    let report = Report {
        jaconet: env!("CARGO_PKG_VERSION"),
        cover: built.files.path(FileId(0)).unwrap_or_default(),
        sheet: scene.map(sheet),
        measures: built.design.as_ref().map_or(&[], |design| &design.measures),
        inputs: inputs.iter().map(|(file, digest)| Input { file: file.clone(), sha256: digest.to_string() }).collect(),
        fonts: scene.map_or_else(Vec::new, fonts),
        pictures: scene.map_or_else(Vec::new, pictures),
        inks: scene.map_or_else(Inks::default, inks),
        findings: built.findings.iter().map(|finding| told(&built.files, finding)).collect(),
        unlisted: built.findings.left_out(),
        outputs,
    };
    let mut bytes = serde_json::to_vec_pretty(&report).expect("names and finite numbers always become JSON");
    bytes.push(b'\n');
    bytes
}

pub fn told(files: &Files, finding: &Finding) -> Told {
    let (line, column) = files.line_column(finding.span).unwrap_or((1, 1));
    Told {
        severity: finding.severity,
        rule: finding.rule,
        file: files.path(finding.span.file).unwrap_or_default(),
        line,
        column,
        message: finding.message.clone(),
        help: finding.help.clone(),
        place: finding.place.map(area),
    }
}

fn sheet(scene: &Scene) -> Sheet {
    let panels = scene.sheet.panels.iter();
    Sheet {
        trim: area(scene.sheet.trim),
        bleed: area(scene.sheet.bleed),
        panels: panels.map(|panel| Panel { name: panel.name, area: area(panel.rect) }).collect(),
        folds: scene.sheet.folds.iter().map(|fold| round(fold.x)).collect(),
    }
}

/// Every face in use, by name, each once.
fn fonts(scene: &Scene) -> Vec<Face> {
    let mut faces: BTreeMap<(&str, Digest), &Arc<Font>> = BTreeMap::new();
    scene.walk(&mut |item| {
        if let Mark::Glyphs(GlyphRun { font, .. }) = &item.mark {
            faces.insert((font.name(), font.digest()), font);
        }
    });
    let faces = faces.into_iter().map(|((name, _), font)| Face {
        name: name.to_owned(),
        family: font.family().to_owned(),
        weight: font.weight(),
        italic: font.italic(),
        embedding: embedding(font),
        sha256: Digest::of_file(font.bytes()).to_string(),
    });
    faces.collect()
}

fn embedding(font: &Font) -> &'static str {
    let licence = font.embedding();
    match (licence.restricted, licence.bitmap_only, licence.no_subset) {
        (true, ..) => "forbidden",
        (_, true, _) => "bitmaps only",
        (.., true) => "whole",
        _ => "subset",
    }
}

/// Every picture, in the order of printing, with the resolution it prints at.
fn pictures(scene: &Scene) -> Vec<Image> {
    let mut images = Vec::new();
    scene.walk(&mut |item| {
        if let Mark::Picture(placed) = &item.mark {
            images.push(Image {
                file: placed.picture.name().to_owned(),
                pixels: [placed.picture.width(), placed.picture.height()],
                model: placed.picture.model(),
                area: area(placed.bounds()),
                ppi: resolution(placed),
                sha256: Digest::of_file(placed.picture.bytes()).to_string(),
            });
        }
    });
    images
}

/// Pixels per inch on paper, in the coarser direction.
fn resolution(placed: &Placed) -> f64 {
    let [a, b, c, d, ..] = placed.transform.as_coeffs();
    let across = f64::from(placed.picture.width()) / (a.hypot(b) / MM_PER_INCH);
    let down = f64::from(placed.picture.height()) / (c.hypot(d) / MM_PER_INCH);
    round(across.min(down))
}

fn inks(scene: &Scene) -> Inks {
    let mut used = [false; 4];
    scene.walk(&mut |item| {
        let mut mark = |inks: [f64; 4]| (0..4).for_each(|at| used[at] |= inks[at] > 0.0);
        if let Mark::Picture(Placed { picture, paint: None, .. }) = &item.mark {
            mark(if picture.model() == Model::Grey { [0.0, 0.0, 0.0, 1.0] } else { [1.0; 4] });
        }
        item.inks(&mut |ink| {
            if let Colour::Process(inks) = ink.colour {
                mark(inks);
            }
        });
    });
    let names = ["cyan", "magenta", "yellow", "black"];
    let process = names.into_iter().zip(used).filter(|(_, used)| *used).map(|(name, _)| name).collect();
    Inks { process, spots: scene.spots().iter().map(|spot| plate(spot)).collect() }
}

fn plate(spot: &Spot) -> Plate {
    Plate { name: spot.name.clone(), finishing: spot.finishing, look: spot.look.map(round) }
}

fn area(rect: Rect) -> Area {
    let [left, top, width, height] = [rect.x0, rect.y0, rect.width(), rect.height()].map(round);
    Area { left, top, width, height }
}

/// To the micrometre; a number that is none becomes 0, for JSON has no word for it.
fn round(value: f64) -> f64 {
    if value.is_finite() { (value * 1000.0).round() / 1000.0 + 0.0 } else { 0.0 }
}
