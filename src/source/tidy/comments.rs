//! Comments: comments put behind their rows, those of neighbouring rows in one column, and comments on lines of their own.

use crate::source::tidy::print::{CodeRow, width};

/// Between code and the comment behind it.
const GAP: usize = 2;
/// Code that reaches further does not move the comments of its neighbours; its own stands right behind it.
const REACH: usize = 72;
/// What begins a comment that points at something above it: it stays in its column.
const POINTERS: [&str; 4] = ["^", " error: ", " warning: ", " note: "];

/// The text of all rows.
pub fn placed(rows: &[CodeRow<'_>]) -> String {
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
fn run(rows: &[CodeRow<'_>]) -> usize {
    let mut column = None;
    let follows = |row: &&CodeRow<'_>| {
        let Some(comment) = row.comment else { return false };
        let follows = !row.code.is_empty() || column == Some(comment.column);
        column = Some(comment.column);
        follows
    };
    rows.iter().take_while(follows).count()
}

/// The author's column, the leftmost where there are several, if every code of common length ends before it. A comment
/// right behind its code was not set in a column.
fn together(text: &mut String, rows: &[CodeRow<'_>]) {
    let short = |row: &&CodeRow<'_>| !row.code.is_empty() && width(&row.code) <= REACH;
    let set = rows.iter().filter(short).filter_map(|row| row.comment).filter(|comment| comment.gap > GAP);
    let wished = set.map(|comment| comment.column).min();
    let longest = rows.iter().filter(short).map(|row| width(&row.code)).max().unwrap_or(0);
    let common = wished.unwrap_or(0).max(longest + GAP);
    let mut column = common;
    for row in rows {
        if !row.code.is_empty() {
            column = if short(&row) { common } else { width(&row.code) + GAP };
        }
        let stated = row.comment.map_or("", |comment| comment.text);
        let blanks = " ".repeat(column - width(&row.code));
        line(text, &[&row.code, &blanks, stated]);
    }
}

fn alone(text: &mut String, row: &CodeRow<'_>) {
    let Some(comment) = row.comment else { return line(text, &[&row.code]) };
    let points = POINTERS.iter().any(|sign| comment.text[2..].starts_with(sign));
    let column = if points { comment.column } else { row.indent };
    line(text, &[&" ".repeat(column), comment.text]);
}

fn line(text: &mut String, parts: &[&str]) {
    text.extend(parts.iter().copied());
    text.push('\n');
}
