//! Read: a table by the form that its name says, CSV or JSON.

use crate::ground::{FileId, Findings, Span};
use crate::source::table::rows::{TEXT_LIMIT, Table};
use crate::source::table::{objects, records};

/// Reads a table by the ending of its name: `.json`, and anything else as CSV. Findings are what is wrong with the whole
/// file: after an error among them the rows are not to be trusted.
pub fn table(findings: &mut Findings, file: FileId, name: &str, text: &str) -> Table {
    if text.len() > TEXT_LIMIT {
        let message = format!("the table is {} MB large; the limit is {} MB", text.len() >> 20, TEXT_LIMIT >> 20);
        findings.error(Span::new(file, 0..0), message, "a table holds the words of titles; long copy goes in files");
        return Table::default();
    }
    let ending = name.rsplit('.').next().unwrap_or_default();
    // What was found before says nothing of this table.
    let mut own = Findings::default();
    let table = if ending.eq_ignore_ascii_case("json") {
        objects::read(&mut own, file, text)
    } else {
        records::read(&mut own, file, text)
    };
    findings.extend(own.iter().cloned());
    table
}
