//! Account: what the page hears of a cover, in words and numbers: millimetres on the sheet from the upper left corner of
//! the trim.

use crate::cover::Measure;
use crate::ground::{Finding, Ink, PROCESS_PLATES, Span};
use crate::preview::page_element::{PageElement, page_elements};
use crate::preview::scales::PRESS_PPI;
use crate::raster::ink_on_screen;
use crate::record::{Area, Built, Design, LocatedFinding, ReportedPanel, area, located, round, sheet};
use crate::scene::{FoldKind, Scene};
use crate::source::Files;
use crate::targets::Target;
use serde::Serialize;
use std::collections::BTreeMap;
use std::path::Path;

/// Longer lines of a file are not shown whole.
const LINE: usize = 400;

#[derive(Clone, Default, Serialize)]
pub struct CoverAccount {
    pub name: String,
    pub edition: Option<String>,
    pub editions: Vec<String>,
    pub findings: Vec<NumberedFinding>,
    /// How many findings came after the limit.
    pub unlisted: usize,
    pub proof_pages: usize,
    #[serde(flatten)]
    drawn: Option<DrawnAccount>,
}

/// What there is to say of a cover that could be drawn.
#[derive(Clone, Serialize)]
struct DrawnAccount {
    title: String,
    sheet: PageSheet,
    safe: Vec<Area>,
    levels: Vec<PageLevel>,
    measures: Vec<Measure>,
    /// Every plate, in the order of plates.
    inks: Vec<PageInk>,
    /// Percent.
    ink_limit: f64,
    ppi: f64,
    /// In the order of printing.
    elements: Vec<PageElement>,
    views: Vec<String>,
    /// Facts that may be tried.
    fields: BTreeMap<String, String>,
}

#[derive(Clone, Serialize)]
struct PageSheet {
    trim: Area,
    bleed: Area,
    panels: Vec<ReportedPanel>,
    folds: Vec<PageFold>,
}

#[derive(Clone, Serialize)]
struct PageFold {
    x: f64,
    hinge: bool,
}

#[derive(Clone, Serialize)]
struct PageLevel {
    name: String,
    y: f64,
}

#[derive(Clone, Serialize)]
struct PageInk {
    name: String,
    look: String,
    finishing: bool,
}

/// A finding by its number in the report, with the line of the file that it points into.
#[derive(Clone, Serialize)]
pub struct NumberedFinding {
    pub number: usize,
    #[serde(flatten)]
    pub found: LocatedFinding,
    pub source: String,
}

pub fn account(target: &Target, editions: &[String], built: &Built) -> CoverAccount {
    CoverAccount {
        name: target.stem.clone(),
        edition: built.request.edition.clone(),
        editions: editions.to_vec(),
        findings: findings(target, built),
        unlisted: built.findings.left_out(),
        proof_pages: 0,
        drawn: built.design.as_ref().map(|design| drawn(target, design, &built.files)),
    }
}

/// Every finding, in the order of the report.
pub fn findings(target: &Target, built: &Built) -> Vec<NumberedFinding> {
    let one = |(at, finding): (usize, &Finding)| {
        let found = located(&built.files, finding);
        let found = LocatedFinding { file: typed_path(target, &found.file), ..found };
        NumberedFinding { number: at + 1, found, source: line(&built.files, finding.span) }
    };
    built.findings.iter().enumerate().map(one).collect()
}

/// A file as it is typed in the terminal.
pub fn typed_path(target: &Target, file: &str) -> String {
    let path = if target.folder == Path::new(".") { file.into() } else { target.folder.join(file) };
    path.display().to_string()
}

fn line(files: &Files, span: Span) -> String {
    let text = files.text(span.file).unwrap_or_default();
    let number = files.line_column(span).map_or(1, |(line, _)| line);
    let line = text.lines().nth(number.saturating_sub(1)).unwrap_or_default();
    line[..line.floor_char_boundary(LINE)].to_owned()
}

fn drawn(target: &Target, design: &Design, files: &Files) -> DrawnAccount {
    let scene = &design.scene;
    let sheet = sheet(scene);
    let folds = scene.sheet.folds.iter();
    let folds = folds.map(|fold| PageFold { x: round(fold.x), hinge: fold.kind == FoldKind::Score }).collect();
    let levels = design.levels.iter().map(|(name, y)| PageLevel { name: name.clone(), y: *y });
    let views = scene.views.iter().flat_map(|views| &views.all).map(|view| view.name.clone());
    DrawnAccount {
        title: scene.job.title.clone(),
        sheet: PageSheet { trim: sheet.trim, bleed: sheet.bleed, panels: sheet.panels, folds },
        safe: design.safe.iter().map(|safe| area(*safe)).collect(),
        levels: levels.collect(),
        measures: design.measures.clone(),
        inks: inks(scene),
        ink_limit: round(design.ink_limit * 100.0),
        ppi: PRESS_PPI,
        elements: page_elements(scene, files, &|file| typed_path(target, file)),
        views: views.collect(),
        fields: design.triable.iter().cloned().collect(),
    }
}

fn inks(scene: &Scene) -> Vec<PageInk> {
    let look = |ink: &Ink| colour(ink_on_screen(ink, &scene.profile));
    let process = PROCESS_PLATES.iter().enumerate().map(|(plate, name)| {
        let mut shares = [0.0; 4];
        shares[plate] = 1.0;
        let [c, m, y, k] = shares;
        PageInk { name: (*name).to_owned(), look: look(&Ink::process(c, m, y, k)), finishing: false }
    });
    let spots = scene.spots().into_iter().filter(|spot| spot.has_own_plate()).map(|spot| {
        let (name, finishing) = (spot.name.clone(), spot.finish.is_some());
        PageInk { name, look: look(&Ink::spot(spot, 1.0)), finishing }
    });
    process.chain(spots).collect()
}

/// As a style sheet writes it.
pub fn colour(rgb: [u8; 3]) -> String {
    let [red, green, blue] = rgb;
    format!("#{red:02x}{green:02x}{blue:02x}")
}
