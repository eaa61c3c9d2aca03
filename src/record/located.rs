//! Located: a finding as programs read it: with its line, its subject, what was measured, and where the limit was set.

use crate::ground::{EdgeDistance, Finding, Severity, Subject};
use crate::record::area::{Area, area, round};
use crate::source::Files;
use serde::Serialize;

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LocatedFinding {
    pub severity: Severity,
    pub rule: &'static str,
    pub file: String,
    pub line: usize,
    pub column: usize,
    pub message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<String>,
    /// Where it shows on the sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Area>,
    #[serde(flatten)]
    pub subject: LocatedSubject,
}

/// As much of the subject as is known.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct LocatedSubject {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub element: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub panel: Option<String>,
    /// How far it stands from the nearest edge of its panel.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<EdgeDistance>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured: Option<LocatedMeasure>,
}

/// A measured value and its limit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LocatedMeasure {
    pub value: f64,
    pub unit: String,
    pub limit: f64,
    /// What `limit` calls the limit.
    pub name: String,
    /// Where the limit was stated; left out for the usual one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set: Option<LimitPlace>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimitPlace {
    pub file: String,
    pub line: usize,
}

pub fn located(files: &Files, finding: &Finding) -> LocatedFinding {
    let (line, column) = files.line_column(finding.span).unwrap_or((1, 1));
    LocatedFinding {
        severity: finding.severity,
        rule: finding.rule,
        file: files.path(finding.span.file).unwrap_or_default(),
        line,
        column,
        message: finding.message.clone(),
        help: finding.help.clone(),
        place: finding.place.map(area),
        subject: subject(files, &finding.subject),
    }
}

fn subject(files: &Files, subject: &Subject) -> LocatedSubject {
    let measured = subject.measured.as_ref().map(|measured| LocatedMeasure {
        value: round(measured.value),
        unit: measured.unit.clone(),
        limit: round(measured.limit),
        name: measured.name.clone(),
        set: measured.set.map(|span| LimitPlace {
            file: files.path(span.file).unwrap_or_default(),
            line: files.line_column(span).map_or(1, |(line, _)| line),
        }),
    });
    LocatedSubject {
        element: subject.element.clone(),
        panel: subject.panel.clone(),
        from: subject.edge.clone(),
        measured,
    }
}
