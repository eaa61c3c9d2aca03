//! Stored finding: a finding as the store keeps it.

use crate::check::names;
use crate::ground::{Digest, FileId, Finding, Rect, Severity, Span, Subject};
use crate::record::Built;
use crate::record::TABLE;
use serde::{Deserialize, Serialize};

#[derive(Serialize, Deserialize)]
pub struct StoredFinding {
    severity: Severity,
    rule: String,
    file: u32,
    start: usize,
    end: usize,
    message: String,
    help: Option<String>,
    place: Option<[f64; 4]>,
    subject: Subject,
    /// The table it points into: rows move when others change.
    table: Option<Digest>,
}

impl StoredFinding {
    /// `None` for what would not be found again.
    pub fn new(finding: &Finding, built: &Built) -> Option<StoredFinding> {
        Some(StoredFinding {
            severity: finding.severity,
            rule: known(finding.rule)?.to_owned(),
            file: finding.span.file.0,
            start: finding.span.start,
            end: finding.span.end,
            message: finding.message.clone(),
            help: finding.help.clone(),
            place: finding.place.map(|place| [place.x0, place.y0, place.x1, place.y1]),
            subject: finding.subject.clone(),
            table: table(finding.span.file, built),
        })
    }

    pub fn finding(&self, built: &Built) -> Option<Finding> {
        let file = FileId(self.file);
        if table(file, built) != self.table {
            return None;
        }
        Some(Finding {
            severity: self.severity,
            rule: known(&self.rule)?,
            span: Span::new(file, self.start..self.end),
            message: self.message.clone(),
            help: self.help.clone(),
            place: self.place.map(|[x0, y0, x1, y1]| Rect::new(x0, y0, x1, y1)),
            // Only covers without errors are stored.
            unknown: false,
            subject: self.subject.clone(),
        })
    }
}

fn known(rule: &str) -> Option<&'static str> {
    names().find(|name| *name == rule)
}

fn table(file: FileId, built: &Built) -> Option<Digest> {
    built.request.title.as_ref().filter(|_| file == TABLE).map(|title| title.sheet.digest)
}
