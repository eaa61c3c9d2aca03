//! Brief: how a cover stands, in a few numbers for the wall, and why it cannot be drawn.

use crate::ground::Severity;
use crate::preview::account::NumberedFinding;
use crate::record::Built;
use serde::Serialize;

/// What the wall shows of a title.
#[derive(Clone, Default, Serialize)]
pub struct TitleBrief {
    pub title: String,
    pub errors: usize,
    pub warnings: usize,
    pub notes: usize,
    pub drawn: bool,
    pub front: Option<String>,
    pub spine: Option<String>,
}

impl TitleBrief {
    pub fn counted(built: &Built) -> TitleBrief {
        let count = |severity| built.findings.distinct().filter(|finding| finding.severity == severity).count();
        TitleBrief {
            errors: count(Severity::Error),
            warnings: count(Severity::Warning),
            notes: count(Severity::Note),
            ..TitleBrief::default()
        }
    }

    pub fn state(&self, build: u64) -> &'static str {
        match (self.errors, self.warnings + self.notes) {
            _ if build == 0 => "waiting",
            (0, 0) if self.drawn => "clean",
            (0, _) if self.drawn => "findings",
            _ => "failed",
        }
    }
}

/// Why a cover cannot be drawn as its files are now.
#[derive(Clone, Serialize)]
pub struct Mistake {
    pub findings: Vec<NumberedFinding>,
}
