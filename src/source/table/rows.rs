//! Rows: a table as data, the limits of its size, and the number and column of a place in it.

use crate::assets::TABLE_LIMIT;
use crate::ground::{FileId, Finding, Findings, Severity, Span, Spanned};

pub const TEXT_LIMIT: usize = TABLE_LIMIT as usize;
/// Nor have more rows: a large house has a backlist of some ten thousand titles.
pub const ROW_LIMIT: usize = 100_000;
/// Nor more columns, of which a title needs some twenty.
pub const COLUMN_LIMIT: usize = 1000;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// As they are named, each where it is named first.
    pub columns: Vec<Spanned<String>>,
    /// In the order of the file; rows that say nothing are left out.
    pub rows: Vec<Row>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// As a spreadsheet counts: the header is row 1. Objects of JSON count from 1.
    pub number: usize,
    pub span: Span,
    pub cells: Vec<Cell>,
    /// What is wrong with this row as a table; it stops this row alone.
    pub faults: Vec<Finding>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    pub column: Spanned<String>,
    /// The lines of a cell, or what a JSON array holds; one that says nothing is empty and keeps its place.
    pub items: Vec<Spanned<String>>,
    /// The cell as one text, quotes and escapes taken off; its place includes them.
    pub whole: Spanned<String>,
}

impl Table {
    /// The number of the row that a place lies in, and its column when it lies in a cell.
    pub fn cell_at(&self, span: Span) -> Option<(usize, Option<&str>)> {
        let after = self.rows.partition_point(|row| row.span.start <= span.start);
        let row = &self.rows[after.checked_sub(1)?];
        if !holds(row.span, span) {
            return None;
        }
        // Where cells have no place of their own, all have the row's.
        let placed = || row.cells.iter().filter(|cell| cell.whole.span != row.span || row.cells.len() == 1);
        let item = placed().find(|cell| cell.items.iter().any(|item| holds(item.span, span)));
        let cell = item.or_else(|| placed().find(|cell| holds(cell.whole.span, span)));
        Some((row.number, cell.map(|cell| cell.column.value.as_str())))
    }
}

impl Row {
    /// Whether any cell says something.
    pub fn speaks(&self) -> bool {
        !self.faults.is_empty() || self.cells.iter().any(|cell| !cell.whole.value.trim().is_empty())
    }
}

fn holds(outer: Span, inner: Span) -> bool {
    outer.file == inner.file && outer.start <= inner.start && inner.end <= outer.end
}

pub fn fault(span: Span, message: impl Into<String>, help: impl Into<String>) -> Finding {
    Finding::new(Severity::Error, "language", span, message).help(help)
}

/// A table without a row says nothing; one with too many is cut.
pub fn bounded(findings: &mut Findings, file: FileId, mut table: Table, way: &str) -> Table {
    if let Some(row) = table.rows.get(ROW_LIMIT) {
        let message = format!("the table has more than {ROW_LIMIT} rows");
        findings.error(row.span, message, "divide it into several catalogues");
        table.rows.truncate(ROW_LIMIT);
    } else if table.rows.is_empty() && !findings.has_errors() {
        findings.error(Span::new(file, 0..0), "the table has no rows", way);
    }
    table
}
