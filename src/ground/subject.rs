//! Subject: what a finding is about, for programs: element, panel, place from the nearest edge, measured value and limit.

use crate::ground::Span;

/// As much of it as a finding knows.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Subject {
    pub element: Option<String>,
    pub panel: Option<String>,
    pub edge: Option<EdgeDistance>,
    pub measured: Option<Measured>,
}

/// How far something stands from the edge of its panel that is nearest to it; negative where it reaches over.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct EdgeDistance {
    /// `left`, `right`, `head` or `foot`.
    pub edge: String,
    pub mm: f64,
}

/// A measured value and the limit it was held against.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Measured {
    pub value: f64,
    /// `mm`, `pt`, `%`, or nothing for a bare number.
    pub unit: String,
    pub limit: f64,
    /// What `limit` calls it.
    pub name: String,
    /// Where the limit was stated; `None` for the usual one.
    pub set: Option<Span>,
}
