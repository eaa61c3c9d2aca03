//! Ink over the limit as a report tells of it: how much lies together, on what area, and where.

use crate::record::area::Area;
use serde::{Deserialize, Serialize};

/// Where more ink lies together, averaged over a millimetre, than the press takes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReportedInkOver {
    /// What the press takes, in percent.
    pub limit: f64,
    /// The most that lies together, in percent.
    pub most: f64,
    /// All such places together.
    pub cm2: f64,
    /// What holds them all.
    pub place: Area,
}
