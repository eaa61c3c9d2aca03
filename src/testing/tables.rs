//! Tables: a catalogue's table read for a test: its rows, the titles they make, and what is wrong with them.

use crate::ground::{FileId, Findings};
use crate::language::{judge_columns, stems_twice, title};
use crate::source::{Node, Value, table};
use std::fmt::Write as _;

/// A table as a test sees it.
pub struct TestedTable {
    /// Every row's number, and its columns with their texts.
    pub rows: Vec<(usize, Vec<(String, String)>)>,
    /// Every title's stem, and its tree, one node a line.
    pub titles: Vec<(String, String)>,
    /// `row 7, isbn: …`, or the message alone where it concerns the whole table.
    pub notes: Vec<String>,
    /// The way out of each.
    pub helps: Vec<String>,
}

pub fn read_table(name: &str, text: &str) -> TestedTable {
    let mut findings = Findings::default();
    let table = table(&mut findings, FileId(0), name, text);
    // A template that speaks of every column.
    let stated = table.columns.iter().map(|column| format!("{{{0}}} {0} ", column.value));
    judge_columns(&mut findings, &table, &stated.collect::<String>().replace("swatch.", " "));
    let titles: Vec<_> = table.rows.iter().map(|row| title(&mut findings, row)).collect();
    findings.extend(stems_twice(&titles).into_iter().map(|(_, finding)| finding));
    let note = |finding: &crate::ground::Finding| match table.cell_at(finding.span) {
        Some((row, Some(column))) => format!("row {row}, {column}: {}", finding.message),
        Some((row, None)) => format!("row {row}: {}", finding.message),
        None => finding.message.clone(),
    };
    let cell = |cell: &crate::source::Cell| (cell.column.value.clone(), cell.whole.value.clone());
    TestedTable {
        rows: table.rows.iter().map(|row| (row.number, row.cells.iter().map(cell).collect())).collect(),
        titles: titles.iter().map(|title| (title.stem.value.clone(), written(&title.tree.nodes, 0))).collect(),
        notes: findings.iter().map(note).collect(),
        helps: findings.iter().map(|finding| finding.help.clone().unwrap_or_default()).collect(),
    }
}

fn written(nodes: &[Node], depth: usize) -> String {
    let mut out = String::new();
    for node in nodes {
        let values = node.values.iter().map(Value::shown);
        let properties = node.properties.iter().map(|(key, value)| format!("{}={}", key.value, value.shown()));
        let stated: Vec<String> = [node.name.value.clone()].into_iter().chain(values).chain(properties).collect();
        let blanks = depth * "    ".len();
        writeln!(out, "{:blanks$}{}", "", stated.join(" ")).expect("a string takes every line");
        out += &written(&node.children, depth + 1);
    }
    out
}
