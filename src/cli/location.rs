//! Location: the file that a finding points into, and the cell of a catalogue's table.

use crate::assets::tidy;
use crate::ground::Finding;
use crate::record::Built;

/// The file that a finding points into, from where the command was typed: paths count from the folder of the typed file.
pub fn file_of(shown: &str, built: &Built, finding: &Finding) -> String {
    beside(shown, &built.files.path(finding.span.file).unwrap_or_default())
}

/// A file by its path from the folder of the typed file.
pub fn beside(shown: &str, file: &str) -> String {
    match shown.rsplit_once('/') {
        Some((folder, _)) => tidy(&format!("{folder}/{file}")),
        None => file.to_owned(),
    }
}

/// `titles.csv, row 7, isbn: ` before what concerns a title of a catalogue.
pub fn cell(built: &Built, finding: &Finding) -> String {
    let (Some(title), Some((row, column))) = (&built.request.title, built.cell(finding.span)) else {
        return String::new();
    };
    let column = column.map_or_else(String::new, |column| format!(", {column}"));
    format!("{}, row {row}{column}: ", title.sheet.path)
}
