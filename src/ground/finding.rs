//! Finding: what is reported to the author, as data: severity, place, message, way out.

use crate::ground::{Rect, Span, Subject};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    Note,
    Warning,
    Error,
}

impl Severity {
    pub fn word(self) -> &'static str {
        match self {
            Severity::Note => "note",
            Severity::Warning => "warning",
            Severity::Error => "error",
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    pub severity: Severity,
    /// The rule or stage that reports it: `ink-over-limit`, `language`, `file`. `jaconet explain` knows the rules.
    pub rule: &'static str,
    pub span: Span,
    pub message: String,
    /// A way out.
    pub help: Option<String>,
    /// Where it shows on the sheet, in sheet millimetres.
    pub place: Option<Rect>,
    /// A word that the language does not know: wrong in every format and edition.
    pub unknown: bool,
    pub subject: Subject,
}

impl Finding {
    pub fn new(severity: Severity, rule: &'static str, span: Span, message: impl Into<String>) -> Finding {
        Finding {
            severity,
            rule,
            span,
            message: message.into(),
            help: None,
            place: None,
            unknown: false,
            subject: Subject::default(),
        }
    }

    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Finding {
        self.help = Some(help.into());
        self
    }

    #[must_use]
    pub fn at(mut self, place: Rect) -> Finding {
        self.place = Some(place);
        self
    }
}

/// Findings in the order they were made, each once.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Findings {
    kept: Vec<Finding>,
    left_out: usize,
    errors: bool,
    /// Keeps none, and has no messages made.
    closed: bool,
}

/// Nobody reads more findings than this; further ones are only counted.
const LIMIT: usize = 1000;

impl Findings {
    /// For what is read once more: its findings are known.
    pub fn closed() -> Findings {
        Findings { closed: true, ..Findings::default() }
    }

    pub fn push(&mut self, finding: Finding) {
        self.errors |= finding.severity == Severity::Error;
        if self.closed {
            return;
        }
        // Most differ in their place already, which is quick to compare.
        if self.kept.iter().any(|kept| kept.span == finding.span && *kept == finding) {
            return;
        }
        if self.kept.len() < LIMIT {
            return self.kept.push(finding);
        }
        self.left_out += 1;
        // A graver one takes the place of the last that is less grave.
        let least = self.kept.iter().rposition(|kept| kept.severity < finding.severity);
        if let Some(at) = least {
            self.kept.remove(at);
            self.kept.push(finding);
        }
    }

    /// Those of one file, with what it left out.
    pub fn take_in(&mut self, more: Findings) {
        self.extend(more.kept);
        self.left_out += more.left_out;
        self.errors |= more.errors;
    }

    /// How many came after the limit.
    pub fn left_out(&self) -> usize {
        self.left_out
    }

    /// An error of the language: something in the cover file cannot be understood.
    pub fn error(&mut self, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.push(Finding::new(Severity::Error, "language", span, message).help(help));
    }

    /// A word that the language does not know. The message is only made where there is still room for it.
    pub fn unknown(&mut self, span: Span, words: impl FnOnce() -> (String, String)) {
        if self.kept.len() < LIMIT && !self.closed {
            let (message, help) = words();
            let finding = Finding::new(Severity::Error, "language", span, message).help(help);
            self.push(Finding { unknown: true, ..finding });
        } else {
            self.errors = true;
            self.left_out += 1;
        }
    }

    /// Makes errors of warnings.
    pub fn raise(&mut self) {
        for finding in self.kept.iter_mut().filter(|finding| finding.severity == Severity::Warning) {
            finding.severity = Severity::Error;
            self.errors = true;
        }
    }

    pub fn iter(&self) -> impl Iterator<Item = &Finding> {
        self.kept.iter()
    }

    /// Each finding once, although it may show in several places: a part used twice is wrong twice in one line. Equal
    /// findings stand side by side after sorting.
    pub fn distinct(&self) -> impl Iterator<Item = &Finding> {
        let stated = |finding: &Finding| (finding.span, finding.severity, finding.rule, finding.message.clone());
        self.kept.chunk_by(move |one, next| stated(one) == stated(next)).filter_map(<[Finding]>::first)
    }

    pub fn len(&self) -> usize {
        self.kept.len()
    }

    pub fn is_empty(&self) -> bool {
        self.kept.is_empty()
    }

    pub fn has_errors(&self) -> bool {
        self.errors
    }

    /// Errors within a span show in this place, unless they have one of their own.
    pub fn show(&mut self, within: Span, place: Rect) {
        let inside = |span: Span| span.file == within.file && within.start <= span.start && span.end <= within.end;
        for finding in &mut self.kept {
            if finding.severity == Severity::Error && finding.place.is_none() && inside(finding.span) {
                finding.place = Some(place);
            }
        }
    }

    /// By place in the files, then by severity, so that reports read from top to bottom.
    pub fn sort(&mut self) {
        self.kept.sort_by(|a, b| {
            (a.span, std::cmp::Reverse(a.severity), a.rule, &a.message).cmp(&(
                b.span,
                std::cmp::Reverse(b.severity),
                b.rule,
                &b.message,
            ))
        });
    }
}

impl Extend<Finding> for Findings {
    fn extend<I: IntoIterator<Item = Finding>>(&mut self, more: I) {
        more.into_iter().for_each(|finding| self.push(finding));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_beyond_the_limit_is_counted() {
        let mut findings = Findings::default();
        for number in 0..=LIMIT {
            let finding = Finding::new(Severity::Warning, "language", Span::default(), number.to_string());
            findings.push(finding.clone());
            findings.push(finding);
        }
        assert_eq!((findings.len(), findings.has_errors()), (LIMIT, false));
        assert_eq!(findings.left_out(), 2);
        let mut closed = Findings::closed();
        closed.unknown(Span::default(), || unreachable!("nobody reads these words"));
        closed.push(Finding::new(Severity::Note, "language", Span::default(), ""));
        assert!(closed.is_empty() && closed.has_errors());
        let mut late = findings.clone();
        late.unknown(Span::default(), || unreachable!("nobody reads these words"));
        assert_eq!((late.has_errors(), late.left_out()), (true, 3));
        findings.error(Span::default(), "an error beyond the limit", "");
        assert!(findings.has_errors());
        assert_eq!(findings.iter().last().map(|kept| kept.severity), Some(Severity::Error));
        assert_eq!((findings.len(), findings.left_out()), (LIMIT, 3));
    }
}
