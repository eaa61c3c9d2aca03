//! Page element: what the page hears of one element: where it stands, where it is written, what it shows.

use crate::record::{Area, ReportedElement, placed_elements, sums};
use crate::scene::{Kind, Scene};
use crate::source::Files;
use serde::Serialize;

/// Longer words of an element are not sent whole.
const WORDS: usize = 300;

#[derive(Clone, Serialize)]
pub struct PageElement {
    panel: String,
    name: String,
    kind: Kind,
    #[serde(flatten)]
    area: Area,
    file: String,
    line: usize,
    text: String,
    font: Option<String>,
    points: Option<f64>,
    picture: Option<String>,
    ppi: Option<f64>,
    drawn: String,
}

/// In the order of printing; `shown` says a file as it is typed.
pub fn page_elements(scene: &Scene, files: &Files, shown: &dyn Fn(&str) -> String) -> Vec<PageElement> {
    let elements = placed_elements(scene, &sums(scene)).into_iter().map(|(known, origin)| {
        let file = files.path(origin.span.file).unwrap_or_default();
        let line = files.line_column(origin.span).map_or(1, |(line, _)| line);
        element(known, shown(&file), line)
    });
    elements.collect()
}

fn element(known: ReportedElement, file: String, line: usize) -> PageElement {
    let face = known.faces.first();
    let picture = known.pictures.first();
    PageElement {
        file,
        line,
        text: known.words[..known.words.floor_char_boundary(WORDS)].to_owned(),
        font: face.map(|face| face.font.clone()),
        points: face.map(|face| face.size),
        picture: picture.map(|picture| picture.file.clone()),
        ppi: picture.map(|picture| picture.ppi),
        panel: known.panel,
        name: known.name,
        kind: known.kind,
        area: known.area,
        drawn: known.drawn,
    }
}
