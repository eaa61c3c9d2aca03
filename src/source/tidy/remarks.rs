//! Remarks: comments put behind their rows, those of neighbouring rows in one column, and comments on lines of their own.

use crate::source::tidy::print::{Row, width};

/// Between code and the comment behind it.
const GAP: usize = 2;
/// Code that reaches further does not move the comments of its neighbours; its own stands right behind it.
const REACH: usize = 72;
/// What begins a comment that points at something above it: it stays in its column.
const POINTERS: [&str; 4] = ["^", " error: ", " warning: ", " note: "];

/// The text of all rows.
pub fn placed(rows: &[Row<'_>]) -> String {
    let mut text = String::new();
    let mut at = 0;
    while at < rows.len() {
        let run = run(&rows[at..]);
        if run == 0 {
            alone(&mut text, &rows[at]);
            at += 1;
        } else {
            together(&mut text, &rows[at..at + run]);
            at += run;
        }
    }
    text
}

/// How many rows from here have comments in one column: those behind code, and those that go on below them on lines of
/// their own.
fn run(rows: &[Row<'_>]) -> usize {
    let mut column = None;
    let follows = |row: &&Row<'_>| {
        let Some(remark) = row.remark else { return false };
        let follows = !row.code.is_empty() || column == Some(remark.column);
        column = Some(remark.column);
        follows
    };
    rows.iter().take_while(follows).count()
}

/// The author's column, the leftmost where there are several, if every code of common length ends before it. A comment
/// right behind its code was not set in a column.
fn together(text: &mut String, rows: &[Row<'_>]) {
    let short = |row: &&Row<'_>| !row.code.is_empty() && width(&row.code) <= REACH;
    let set = rows.iter().filter(short).filter_map(|row| row.remark).filter(|remark| remark.gap > GAP);
    let wished = set.map(|remark| remark.column).min();
    let longest = rows.iter().filter(short).map(|row| width(&row.code)).max().unwrap_or(0);
    let common = wished.unwrap_or(0).max(longest + GAP);
    let mut column = common;
    for row in rows {
        if !row.code.is_empty() {
            column = if short(&row) { common } else { width(&row.code) + GAP };
        }
        let said = row.remark.map_or("", |remark| remark.text);
        let blanks = " ".repeat(column - width(&row.code));
        line(text, &[&row.code, &blanks, said]);
    }
}

fn alone(text: &mut String, row: &Row<'_>) {
    let Some(remark) = row.remark else { return line(text, &[&row.code]) };
    let points = POINTERS.iter().any(|sign| remark.text[2..].starts_with(sign));
    let column = if points { remark.column } else { row.indent };
    line(text, &[&" ".repeat(column), remark.text]);
}

fn line(text: &mut String, parts: &[&str]) {
    text.extend(parts.iter().copied());
    text.push('\n');
}
