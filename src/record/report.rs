//! Report: what a build found and made, as JSON. No clock and no path of the machine: same cover, same bytes.

use crate::assets::{Font, Model};
use crate::cover::Measure;
use crate::ground::{Digest, FileId};
use crate::record::area::{Area, area};
use crate::record::located::{LocatedFinding, located};
use crate::record::outline::{
    PictureDigests, ReportedElement, ReportedInks, ReportedSheet, elements, inks, resolution, sheet, sums,
};
use crate::record::{AlikeSize, Built};
use crate::scene::{GlyphRun, Mark, Scene};
use serde::Serialize;
use std::collections::BTreeMap;
use std::sync::Arc;

#[derive(Serialize)]
struct Report<'a> {
    jaconet: &'static str,
    cover: String,
    /// A title of a catalogue, and an edition.
    #[serde(skip_serializing_if = "Option::is_none")]
    title: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    edition: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    sheet: Option<ReportedSheet>,
    #[serde(skip_serializing_if = "str::is_empty")]
    press: &'a str,
    measures: &'a [Measure],
    inputs: Vec<InputEntry>,
    fonts: Vec<FontEntry>,
    pictures: Vec<PictureEntry>,
    inks: ReportedInks,
    #[serde(skip_serializing_if = "<[AlikeSize]>::is_empty")]
    alike: &'a [AlikeSize],
    elements: Vec<ReportedElement>,
    findings: Vec<LocatedFinding>,
    /// How many findings came after the limit.
    unlisted: usize,
    outputs: Vec<OutputEntry>,
}

/// A file that was written.
#[derive(Clone, Debug, Serialize)]
pub struct OutputEntry {
    pub file: String,
    pub bytes: u64,
    pub sha256: String,
}

#[derive(Serialize)]
struct InputEntry {
    file: String,
    sha256: String,
}

#[derive(Serialize)]
struct FontEntry {
    name: String,
    family: String,
    weight: u16,
    italic: bool,
    embedding: &'static str,
    sha256: String,
}

#[derive(Serialize)]
struct PictureEntry {
    file: String,
    pixels: [u32; 2],
    model: Model,
    #[serde(flatten)]
    area: Area,
    ppi: f64,
    sha256: String,
}

/// What `--only` calls the report.
pub const REPORT: &str = "report";

/// The report's bytes.
pub fn report(built: &Built, inputs: &[(String, Digest)], outputs: Vec<OutputEntry>) -> Vec<u8> {
    let scene = built.design.as_ref().map(|design| &design.scene);
    let sums = scene.map_or_else(PictureDigests::new, sums);
    let report = Report {
        jaconet: env!("CARGO_PKG_VERSION"),
        cover: built.files.path(FileId(0)).unwrap_or_default(),
        title: built.request.title.as_ref().map(|title| title.stem.as_str()),
        edition: built.request.edition.as_deref(),
        sheet: scene.map(sheet),
        press: scene.map_or("", |scene| scene.profile.condition()),
        measures: built.design.as_ref().map_or(&[], |design| &design.measures),
        inputs: inputs
            .iter()
            .map(|(file, digest)| InputEntry { file: file.clone(), sha256: digest.to_string() })
            .collect(),
        fonts: scene.map_or_else(Vec::new, fonts),
        pictures: scene.map_or_else(Vec::new, |scene| pictures(scene, &sums)),
        inks: built.design.as_ref().map_or_else(ReportedInks::default, inks),
        alike: built.design.as_ref().map_or(&[], |design| &design.alike),
        elements: scene.map_or_else(Vec::new, |scene| elements(scene, &sums)),
        findings: built.findings.iter().map(|finding| located(&built.files, finding)).collect(),
        unlisted: built.findings.left_out(),
        outputs,
    };
    let mut bytes = serde_json::to_vec_pretty(&report).expect("names and finite numbers always become JSON");
    bytes.push(b'\n');
    bytes
}

/// Every face in use, by name, each once.
fn fonts(scene: &Scene) -> Vec<FontEntry> {
    let mut faces: BTreeMap<(&str, Digest), &Arc<Font>> = BTreeMap::new();
    scene.walk(&mut |item| {
        if let Mark::Glyphs(GlyphRun { font, .. }) = &item.mark {
            faces.insert((font.name(), font.digest()), font);
        }
    });
    let faces = faces.into_iter().map(|((name, _), font)| FontEntry {
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
fn pictures(scene: &Scene, sums: &PictureDigests) -> Vec<PictureEntry> {
    let mut images = Vec::new();
    scene.walk(&mut |item| {
        if let Mark::Picture(placed) = &item.mark {
            images.push(PictureEntry {
                file: placed.picture.name().to_owned(),
                pixels: [placed.picture.width(), placed.picture.height()],
                model: placed.picture.model(),
                area: area(placed.bounds()),
                ppi: resolution(placed),
                sha256: sums.get(&placed.picture.digest()).cloned().unwrap_or_default(),
            });
        }
    });
    images
}
