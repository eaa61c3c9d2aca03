//! Rule: one question to a finished cover, and what it finds.

use crate::check::exam::Exam;
use crate::check::limit::RuleLimit;
use crate::check::visible::VisibleElement;
use crate::cover::StatedLimits;
use crate::ground::{Finding, Measured, Rect, Severity, Span, number};
use crate::scene::Media;
use std::sync::Arc;

pub struct CheckRule {
    pub name: &'static str,
    /// The worst it may say.
    pub severity: Severity,
    /// Which covers it is asked of.
    pub media: Media,
    /// The numbers that it measures against.
    pub limits: &'static [RuleLimit],
    /// The source file whose head is the manual page.
    pub source: &'static str,
    pub run: fn(&Exam<'_>, &mut RuleFindings),
}

/// What one rule tells.
pub struct RuleFindings {
    rule: &'static str,
    stated: Arc<StatedLimits>,
    pub all: Vec<Finding>,
}

impl RuleFindings {
    /// For a rule, with the limits that a cover states.
    pub fn new(rule: &'static str, stated: &Arc<StatedLimits>) -> RuleFindings {
        RuleFindings { rule, stated: stated.clone(), all: Vec::new() }
    }

    /// One of the rule's limits as it is in force here: stated by the cover or a file under it, or else the usual one.
    pub fn limit(&self, limit: &RuleLimit) -> f64 {
        self.stated.get(self.rule, limit.word.name).map_or_else(|| limit.usual(), |stated| stated.value)
    }

    /// What was measured for the last finding, and against which limit.
    pub fn measured(&mut self, value: f64, limit: &RuleLimit) {
        let in_force = limit.counted(self.limit(limit));
        let (value, unit, name) = (limit.counted(value), limit.unit().to_owned(), limit.word.name.to_owned());
        let set = self.stated.get(self.rule, limit.word.name).map(|stated| stated.span);
        if let Some(last) = self.all.last_mut() {
            last.subject.measured = Some(Measured { value, unit, limit: in_force, name, set });
        }
    }

    /// About an element, where it shows.
    pub fn element(
        &mut self,
        severity: Severity,
        element: &VisibleElement<'_>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.place(severity, element.origin.span, element.bounds, message, help);
    }

    /// About a place on the sheet.
    pub fn place(
        &mut self,
        severity: Severity,
        span: Span,
        place: Rect,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.all.push(Finding::new(severity, self.rule, span, message).help(help).at(place));
    }

    /// About something stated, which shows nowhere in particular.
    pub fn fact(&mut self, severity: Severity, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.all.push(Finding::new(severity, self.rule, span, message).help(help));
    }
}

/// Millimetres as a report writes them: to the hundredth.
pub fn mm(value: f64) -> String {
    format!("{} mm", hundredths(value))
}

pub fn pt(value: f64) -> String {
    format!("{} pt", hundredths(value))
}

/// A share as a percentage.
pub fn percent(share: f64) -> String {
    format!("{} %", number((share * 100.0).round()))
}

fn hundredths(value: f64) -> String {
    number((value * 100.0).round() / 100.0)
}
