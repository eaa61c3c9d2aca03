//! Particulars: what is to be said of a cover in words, ready to be set.

use crate::ground::{Point, Rect, Severity};

#[derive(Clone, Debug, Default)]
pub struct Particulars {
    /// What the book states of itself, each with its label.
    pub facts: Vec<(&'static str, String)>,
    /// Where words are safe, panel by panel.
    pub safe: Vec<Rect>,
    /// The straight lines of the printer's keyline.
    pub keyline: Vec<[Point; 2]>,
    /// The most ink on one spot, 1 a solid.
    pub ink_limit: Option<f64>,
    pub measures: Vec<NotedMeasure>,
    /// In the order of the report.
    pub findings: Vec<NotedFinding>,
    /// How many findings came after the limit.
    pub unlisted: usize,
}

/// A number of the sheet and the sum it came from.
#[derive(Clone, Debug)]
pub struct NotedMeasure {
    pub name: String,
    pub value: f64,
    pub unit: &'static str,
    pub sum: String,
}

/// A finding and the line that it points at.
#[derive(Clone, Debug)]
pub struct NotedFinding {
    pub severity: Severity,
    pub rule: &'static str,
    pub message: String,
    pub help: Option<String>,
    /// `cover.kdl:12`.
    pub line: String,
    pub place: Option<Rect>,
}
