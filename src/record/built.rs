//! Built: what came of one cover.

use crate::cover::Measure;
use crate::ground::{FileId, Findings, Point, Rect, Span};
use crate::language::facts_in;
use crate::record::CoverRequest;
use crate::record::reported_ink_over::ReportedInkOver;
use crate::record::reported_plate::ReportedPlate;
use crate::scene::{Delivery, Drift, Scene, Surface};
use crate::source::Files;
use serde::Serialize;

/// Where a catalogue's table stands in the numbering: right after the template.
pub const TABLE: FileId = FileId(1);

/// A cover drawn and checked: all that the outputs and the report want to know of it.
pub struct Design {
    pub scene: Scene,
    pub measures: Vec<Measure>,
    pub delivery: Delivery,
    /// The book's place in its series, where it says one.
    pub order: Option<f64>,
    /// What the book states of itself, each with its label.
    pub facts: Vec<(&'static str, String)>,
    /// Where words are safe, panel by panel.
    pub safe: Vec<Rect>,
    /// The straight lines of the printer's keyline, on our sheet.
    pub keyline: Vec<[Point; 2]>,
    /// Named levels and their heights on the sheet.
    pub levels: Vec<(String, f64)>,
    /// How far it may drift in the bindery and on the press.
    pub drift: Drift,
    /// The most ink on one spot, 1 a solid.
    pub ink_limit: f64,
    /// The plates with ink on them.
    pub plates: Vec<ReportedPlate>,
    /// Where more ink lies together than that.
    pub ink_over: Option<ReportedInkOver>,
    /// Facts that may be tried, each as `--try` would state what the cover says.
    pub triable: Vec<(String, String)>,
    /// Sizes that all covers of the series share.
    pub alike: Vec<AlikeSize>,
}

/// The one size that elements of a name have in all covers of a series.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct AlikeSize {
    pub panel: Surface,
    pub element: String,
    pub points: f64,
    /// What the words of this cover would find by themselves, where they fit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub own: Option<f64>,
    /// The cover that needs it so small: its file, or its stem in a catalogue.
    pub decided_by: String,
    /// How many covers have the element.
    pub of: usize,
}

/// A build of one cover: always whole, whatever was wrong.
pub struct Built {
    pub files: Files,
    /// Sorted by place.
    pub findings: Findings,
    /// `None` when the file could not be read as KDL, so that nothing is known of the cover.
    pub design: Option<Design>,
    /// What was asked for.
    pub request: CoverRequest,
}

impl Built {
    /// Row and column of the table: where a place lies in it, and else the title's own row, with the column that the
    /// place names: `file="art/{plate}.svg"` stands in the template, but what is wrong with it stands under `plate`; and
    /// a file that a cell names is wrong in that cell.
    pub fn cell(&self, span: Span) -> Option<(usize, Option<&str>)> {
        let title = self.request.title.as_ref()?;
        if span.file == TABLE {
            return title.sheet.table.cell_at(span);
        }
        let row = title.row()?;
        let text = self.files.text(span.file).unwrap_or_default();
        let line = text.get(span.start..span.end).filter(|stated| !stated.contains('\n')).unwrap_or_default();
        let speaks = |column: &str| {
            row.cells.iter().find(|cell| cell.column.value == column && !cell.whole.value.trim().is_empty())
        };
        let path = self.files.path(span.file).unwrap_or_default();
        if let Some(cell) = row.cells.iter().find(|cell| self.files.resolve(&cell.whole) == path) {
            return Some((row.number, Some(&cell.column.value)));
        }
        let named = facts_in(line).into_iter().find_map(speaks);
        Some((row.number, named.map(|cell| cell.column.value.as_str())))
    }
}
