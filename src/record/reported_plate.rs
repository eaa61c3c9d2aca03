//! A plate as a report tells of it: what it covers, and by what it is known again.

use serde::{Deserialize, Serialize};

/// A plate with ink on it, over the sheet with its bleed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedPlate {
    pub name: String,
    /// The mean of its tints.
    pub percent: f64,
    /// What a solid of as much ink would cover.
    pub cm2: f64,
    /// The same while nothing on it changes.
    pub sha256: String,
    /// What the job line beside the sheet says, on the plate that carries it.
    #[serde(rename = "job-line", default, skip_serializing_if = "Option::is_none")]
    pub job_line: Option<String>,
}
