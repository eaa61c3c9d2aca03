//! Rule: one question to a finished cover, and what it finds.

use crate::check::exam::Exam;
use crate::check::visible::VisibleElement;
use crate::ground::{Finding, Rect, Severity, Span, number};
use crate::scene::Media;

pub struct CheckRule {
    pub name: &'static str,
    /// The worst it may say.
    pub severity: Severity,
    /// Which covers it is asked of.
    pub media: Media,
    /// The source file whose head is the manual page.
    pub source: &'static str,
    pub run: fn(&Exam<'_>, &mut RuleFindings),
}

/// What one rule tells.
pub struct RuleFindings {
    rule: &'static str,
    pub all: Vec<Finding>,
}

impl RuleFindings {
    pub fn new(rule: &'static str) -> RuleFindings {
        RuleFindings { rule, all: Vec::new() }
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
