//! Records: a table written as CSV. The one door to the reader of CSV.

use crate::ground::{FileId, Findings, Span, Spanned};
use crate::source::table::rows::{COLUMN_LIMIT, Cell, ROW_LIMIT, Row, Table, bounded, fault};
use crate::source::table::scan::{QuoteFault, Scanned, lines, scan, separator, stated};
use csv::{ReaderBuilder, StringRecord};
use std::ops::Range;

pub fn read(findings: &mut Findings, file: FileId, text: &str) -> Table {
    let start = if text.starts_with(MARK) { MARK.len_utf8() } else { 0 };
    let (start, separator) = match stated(&text[start..]) {
        Some((length, separator)) => (start + length, separator),
        None => (start, separator(&text[start..])),
    };
    let mut reader = ReaderBuilder::new().has_headers(false).flexible(true).delimiter(separator).from_reader(
        // Its bytes are counted from here.
        &text.as_bytes()[start..],
    );
    let mut records = Records { file, text, separator, table: Table::default(), named: false, unnamed: Vec::new() };
    let (mut number, mut end) = (0, start);
    loop {
        let mut record = StringRecord::new();
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(why) => {
                findings.error(Span::new(file, 0..0), format!("the table cannot be read: {why}"), "save it as UTF-8");
                break;
            }
        }
        let from = start + record.position().map_or(0, |place| place.byte() as usize);
        let from = from + text.get(from..).map_or(0, |rest| rest.len() - rest.trim_start_matches(BREAKS).len());
        // The breaks passed over are the end of the row before and lines that a spreadsheet counts, too.
        let passed = text.get(end..from).map_or(1, |passed| lines(passed).len() - 1);
        number += if number == 0 { passed + 1 } else { passed.max(1) };
        let scanned = scan(text, from, separator);
        end = scanned.end;
        if !records.add(findings, number, from, &record, &scanned) || records.table.rows.len() > ROW_LIMIT {
            break;
        }
    }
    if !records.named && !findings.has_errors() {
        let help = "begin with a line that names the columns: title,author,isbn,pages";
        findings.error(Span::new(file, 0..0), "the table is empty", help);
    }
    bounded(findings, file, records.table, "write a row for each title under the line that names the columns")
}

/// The byte-order mark, which some spreadsheets put before the first letter.
const MARK: char = '\u{feff}';
const BREAKS: [char; 2] = ['\r', '\n'];

struct Records<'a> {
    file: FileId,
    text: &'a str,
    separator: u8,
    table: Table,
    /// Whether the header has been read.
    named: bool,
    /// Columns without a name that have been reported.
    unnamed: Vec<usize>,
}

impl Records<'_> {
    /// Takes a record in as the header or as a row. `false` when what follows cannot be told apart any more.
    fn add(
        &mut self,
        findings: &mut Findings,
        number: usize,
        from: usize,
        record: &StringRecord,
        scanned: &Scanned,
    ) -> bool {
        if record.iter().all(|field| field.trim().is_empty()) && scanned.fault.is_none() {
            return true;
        }
        let span = self.span(from..scanned.end);
        let mut faults = Vec::new();
        match scanned.fault {
            Some(QuoteFault::Open(quote)) => {
                let message = "the quote that opens here is never closed: it takes in the rest of the table";
                findings.error(self.span(quote..quote + 1), message, QUOTES);
                return false;
            }
            Some(QuoteFault::After { quote, at }) if !self.named || self.text[quote..at].contains(BREAKS) => {
                let message = "the quote that opens here closes before the end of its cell";
                findings.error(self.span(quote..quote + 1), message, QUOTES);
                return false;
            }
            Some(QuoteFault::After { at, .. }) => {
                let rest =
                    self.text[at..scanned.end].find(char::from(self.separator)).map_or(scanned.end, |to| at + to);
                faults.push(fault(self.span(at..rest), "text follows the closing quote of this cell", QUOTES));
            }
            None => {}
        }
        let cells = self.cells(span, record, scanned);
        if !self.named {
            self.named = true;
            if cells.len() > COLUMN_LIMIT {
                let message = format!("the table has {} columns; the limit is {COLUMN_LIMIT}", cells.len());
                findings.error(span, message, "leave out what no cover says");
                return false;
            }
            self.table.columns = cells.into_iter().map(|cell| trimmed(cell.1)).collect();
            return true;
        }
        let (expected, found) = (self.table.columns.len(), cells.len());
        if expected != found && faults.is_empty() {
            let message = format!("{} here, and the first row names {expected}", count(found));
            let help = format!("give it {}, empty ones between two separators; {CELLS}", count(expected));
            faults.push(fault(span, message, help));
        }
        let mut row = Row { number, span, cells: Vec::new(), faults };
        for (at, ((items, whole), column)) in cells.into_iter().zip(&self.table.columns).enumerate() {
            if !column.value.is_empty() {
                row.cells.push(Cell { column: column.clone(), items, whole });
            } else if !whole.value.trim().is_empty() && !self.unnamed.contains(&at) && row.faults.is_empty() {
                self.unnamed.push(at);
                let message = format!("column {} has no name, and row {number} fills it", at + 1);
                findings.error(whole.span, message, "name it in the first row, or empty it");
            }
        }
        if row.speaks() {
            self.table.rows.push(row);
        }
        true
    }

    /// Lines and whole text of every cell. Where scan and reader disagree, the whole row is the place of each.
    fn cells(
        &self,
        span: Span,
        record: &StringRecord,
        scanned: &Scanned,
    ) -> Vec<(Vec<Spanned<String>>, Spanned<String>)> {
        let agreed = record.len() == scanned.cells.len()
            && record.iter().zip(&scanned.cells).all(|(field, place)| bare(&self.text[place.clone()]).1 == field);
        let one = |(at, field): (usize, &str)| {
            let whole = |span| Spanned::new(field.to_owned(), span);
            if !agreed {
                let items = lines(field).into_iter().map(|line| Spanned::new(field[line].to_owned(), span));
                return (items.collect(), whole(span));
            }
            let place = scanned.cells[at].clone();
            let raw = &self.text[place.clone()];
            let (inside, _) = bare(raw);
            let item = |line: Range<usize>| {
                let said = &raw[inside.start + line.start..inside.start + line.end];
                let from = place.start + inside.start;
                let said = if inside.start > 0 { said.replace("\"\"", "\"") } else { said.to_owned() };
                Spanned::new(said, self.span(from + line.start..from + line.end))
            };
            (lines(&raw[inside.clone()]).into_iter().map(item).collect(), whole(self.span(place)))
        };
        record.iter().enumerate().map(one).collect()
    }

    fn span(&self, range: Range<usize>) -> Span {
        Span::new(self.file, range)
    }
}

const QUOTES: &str =
    "a quote mark inside a quoted cell is doubled (\"\"), and a cell that opens with one ends with one";
const CELLS: &str = "a cell with a separator in it stands in quotes";

/// Where a cell's text stands within its quotes, and what it says.
fn bare(raw: &str) -> (Range<usize>, String) {
    match raw.strip_prefix('"') {
        Some(rest) => {
            let inside = rest.strip_suffix('"').unwrap_or(rest);
            (1..1 + inside.len(), inside.replace("\"\"", "\""))
        }
        None => (0..raw.len(), raw.to_owned()),
    }
}

/// Without the spaces around it; its place shrinks alike when it is written plainly.
fn trimmed(said: Spanned<String>) -> Spanned<String> {
    let Spanned { value, span } = said;
    let before = value.len() - value.trim_start().len();
    let name = value.trim();
    let plain = span.end - span.start == value.len();
    let span =
        if plain { Span { start: span.start + before, end: span.start + before + name.len(), ..span } } else { span };
    Spanned::new(name.to_owned(), span)
}

fn count(cells: usize) -> String {
    if cells == 1 { "1 cell".to_owned() } else { format!("{cells} cells") }
}
