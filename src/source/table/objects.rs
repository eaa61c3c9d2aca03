//! Objects: a table written as JSON: an array of objects, one a title.

use crate::ground::{FileId, Findings, Span, Spanned};
use crate::source::table::rows::{COLUMN_LIMIT, Cell, ROW_LIMIT, Row, Table, bounded, fault};
use crate::source::table::scan::lines;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde_json::value::RawValue;
use std::collections::BTreeSet;
use std::fmt;

/// Lists and objects may lie this deep in a title: `"quote": [{"text": "…"}]` takes two.
const DEPTH_LIMIT: usize = 4;

pub fn read(findings: &mut Findings, file: FileId, text: &str) -> Table {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let document = Document { file, text };
    let whole: &RawValue = match serde_json::from_str(body) {
        Ok(whole) => whole,
        Err(why) => {
            let at = text.len() - body.len() + offset(body, why.line(), why.column());
            let at = text.floor_char_boundary(at.min(text.len()));
            let end = text.ceil_char_boundary((at + 1).min(text.len()));
            let stated = why.to_string();
            let stated = stated.split(" at line ").next().unwrap_or_default();
            let stray = text[..at].trim_end().ends_with(',') && text[at..end].starts_with(['}', ']']);
            let stated = if stray { "a comma stands before this bracket" } else { stated };
            findings.error(Span::new(file, at..end), format!("this is not JSON: {stated}"), SHAPE);
            return Table::default();
        }
    };
    let Some(rows) = rows(findings, document, whole) else { return Table::default() };
    let mut table = Table::default();
    let mut known = BTreeSet::new();
    for (at, raw) in rows.into_iter().enumerate() {
        let mut row = Row { number: at + 1, span: document.place(raw), cells: Vec::new(), faults: Vec::new() };
        if raw.get().starts_with('{') {
            let mut title = ObjectRow { document, row: &mut row };
            title.object(&Spanned::new(String::new(), title.row.span), 0, raw, 0);
        } else {
            let message = format!("{} is not a title", shown(raw));
            row.faults.push(fault(row.span, message, "a title is an object: {\"title\": \"…\", \"pages\": 312}"));
        }
        for cell in &row.cells {
            if known.insert(cell.column.value.clone()) {
                table.columns.push(cell.column.clone());
            }
        }
        if row.speaks() {
            table.rows.push(row);
        }
        if table.rows.len() > ROW_LIMIT {
            break;
        }
    }
    bounded(findings, file, table, "put an object for each title into the array")
}

const SHAPE: &str = "a table is an array of objects: [{\"title\": \"…\", \"pages\": 312}]";

/// The array of titles: the whole file, or the one array of its object.
fn rows<'a>(findings: &mut Findings, document: Document<'_>, whole: &'a RawValue) -> Option<Vec<&'a RawValue>> {
    let is_array = |raw: &RawValue| raw.get().starts_with('[');
    let arrays: Vec<&RawValue> = match entries(whole) {
        Some(entries) => entries.into_iter().map(|(_, value)| value).filter(|value| is_array(value)).collect(),
        None if is_array(whole) => vec![whole],
        None => Vec::new(),
    };
    let (place, message) = match arrays[..] {
        [one] => return serde_json::from_str(one.get()).ok(),
        [] => (document.place(whole), "there is no array of titles here".to_owned()),
        [_, second, ..] => {
            (document.place(second), format!("there are {} arrays here: which holds the titles?", arrays.len()))
        }
    };
    findings.error(place, message, SHAPE);
    None
}

/// A title while its object is read.
struct ObjectRow<'a, 'r> {
    document: Document<'a>,
    row: &'r mut Row,
}

impl ObjectRow<'_, '_> {
    /// `{"short": …}` under `title` is the column `title.short`; `text` is the column itself.
    fn object(&mut self, name: &Spanned<String>, at: usize, raw: &RawValue, depth: usize) {
        let mut stated = BTreeSet::new();
        for (key, value) in entries(raw).unwrap_or_default() {
            let span = self.document.place(key);
            let Ok(key) = serde_json::from_str::<String>(key.get()) else {
                self.row.faults.push(fault(span, "this name is not sound text", BROKEN));
                continue;
            };
            let key = key.trim();
            if !stated.insert(key.to_owned()) {
                self.row.faults.push(fault(span, format!("`{key}` is stated twice"), "keep one of the two"));
                continue;
            }
            if key.is_empty() {
                self.row.faults.push(fault(span, "a column without a name", "name it"));
                continue;
            }
            let column = match (name.value.as_str(), key) {
                ("", _) => key.to_owned(),
                (_, "text") => name.value.clone(),
                (above, _) => format!("{above}.{key}"),
            };
            self.value(&Spanned::new(column, span), at, value, depth + 1, depth > 0 && at != ALONE);
        }
    }

    /// A value at a place of its column's list.
    fn value(&mut self, name: &Spanned<String>, at: usize, raw: &RawValue, depth: usize, listed: bool) {
        let span = self.document.place(raw);
        let first = raw.get().bytes().next().unwrap_or_default();
        let nested = matches!(first, b'[' | b'{');
        if nested && (depth > DEPTH_LIMIT || first == b'[' && listed) {
            let message = format!("`{}` is nested too deep", name.value);
            let help = "a column holds text, a list of texts, or a list of objects with texts";
            self.row.faults.push(fault(span, message, help));
        } else if first == b'[' {
            let items: Vec<&RawValue> = serde_json::from_str(raw.get()).unwrap_or_default();
            for (at, item) in items.into_iter().enumerate() {
                self.value(name, at, item, depth + 1, true);
            }
        } else if first == b'{' {
            self.object(name, if listed { at } else { ALONE }, raw, depth);
        } else {
            match text(raw) {
                Some(stated) => self.say(name, if listed { at } else { ALONE }, &Spanned::new(stated, span)),
                None => self.row.faults.push(fault(span, "this is not sound text", BROKEN)),
            }
        }
    }

    fn say(&mut self, name: &Spanned<String>, at: usize, stated: &Spanned<String>) {
        let cells = &mut self.row.cells;
        let known = cells.iter().position(|cell| cell.column.value == name.value);
        let items = if at == ALONE {
            lines(&stated.value)
                .into_iter()
                .map(|line| Spanned::new(stated.value[line].to_owned(), stated.span))
                .collect()
        } else {
            let empty = Spanned::new(String::new(), Span { end: stated.span.start, ..stated.span });
            let mut items = vec![empty; at];
            items.push(stated.clone());
            items
        };
        match known {
            None if cells.len() == COLUMN_LIMIT => {
                let message = format!("a title has more than {COLUMN_LIMIT} columns");
                self.row.faults.retain(|fault| fault.message != message);
                self.row.faults.push(fault(name.span, message, "leave out what no cover says"));
            }
            None => {
                let blanks = if at == ALONE { String::new() } else { "\n".repeat(at) };
                let whole = Spanned::new(blanks + &stated.value, stated.span);
                cells.push(Cell { column: name.clone(), items, whole });
            }
            Some(known) if at != ALONE && at >= cells[known].items.len() => {
                let cell = &mut cells[known];
                for item in items.into_iter().skip(cell.items.len()) {
                    cell.whole.value.push('\n');
                    cell.whole.value.push_str(&item.value);
                    cell.items.push(item);
                }
                cell.whole.span.end = stated.span.end;
            }
            Some(_) => {
                let message = format!("`{}` is stated twice", name.value);
                self.row.faults.push(fault(name.span, message, "keep one of the two"));
            }
        }
    }
}

/// No place in a list: the column says this one thing.
const ALONE: usize = usize::MAX;
const BROKEN: &str = "an escape such as \\ud83d lacks its second half; write the letter itself";

/// What a value says: text; a number as it is written; `true`. `null` and `false` say nothing.
fn text(raw: &RawValue) -> Option<String> {
    match raw.get() {
        "null" | "false" => Some(String::new()),
        stated if stated.starts_with('"') => serde_json::from_str(stated).ok(),
        stated => Some(stated.to_owned()),
    }
}

/// The members of an object in their order, names as they are written; `None` for anything else.
fn entries(raw: &RawValue) -> Option<Vec<(&RawValue, &RawValue)>> {
    serde_json::from_str::<Entries<'_>>(raw.get()).ok().map(|entries| entries.0)
}

struct Entries<'a>(Vec<(&'a RawValue, &'a RawValue)>);

impl<'a> Deserialize<'a> for Entries<'a> {
    fn deserialize<D: Deserializer<'a>>(reader: D) -> Result<Entries<'a>, D::Error> {
        struct Members;
        impl<'a> Visitor<'a> for Members {
            type Value = Entries<'a>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }

            fn visit_map<M: MapAccess<'a>>(self, mut map: M) -> Result<Entries<'a>, M::Error> {
                let mut found = Vec::new();
                while let Some(member) = map.next_entry()? {
                    found.push(member);
                }
                Ok(Entries(found))
            }
        }
        reader.deserialize_map(Members)
    }
}

#[derive(Clone, Copy)]
struct Document<'a> {
    file: FileId,
    text: &'a str,
}

impl Document<'_> {
    /// A raw value is a slice of the text: its address tells where.
    fn place(self, raw: &RawValue) -> Span {
        let start = raw.get().as_ptr().addr().saturating_sub(self.text.as_ptr().addr()).min(self.text.len());
        Span::new(self.file, start..(start + raw.get().len()).min(self.text.len()))
    }
}

/// Lines count from 1, columns in bytes; 0 stands for the end of the line before.
fn offset(text: &str, line: usize, column: usize) -> usize {
    let before: usize = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
    (before + column).saturating_sub(1)
}

fn shown(raw: &RawValue) -> String {
    let stated: String = raw.get().chars().take(SHOWN).collect();
    if stated.len() < raw.get().len() { format!("{stated}…") } else { stated }
}

/// Letters of a value in a message.
const SHOWN: usize = 20;
