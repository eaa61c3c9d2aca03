//! Drawn: a finding under its line, for people. The one door to the drawer of reports.

use crate::cli::location::{beside, cell, file_of};
use crate::cli::say::{steers, visible};
use crate::ground::{Finding, Severity, number};
use crate::record::Built;
use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError, MietteSpanContents, SourceCode,
    SourceSpan, SpanContents,
};
use std::fmt;

/// A line longer than this, such as a whole table of JSON, is shown by its number alone. The drawer indents by a width of
/// 16 bits and knows no other.
pub const LINE: usize = 500;

/// A finding with its line.
pub fn drawn(shown: &str, built: &Built, finding: &Finding, colourful: bool) -> String {
    let theme = if colourful { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let drawer = GraphicalReportHandler::new_themed(theme).with_links(false).with_width(100).with_wrap_lines(false);
    let drawn = DrawnFinding::new(shown, built, finding);
    let mut words = String::new();
    // A drawer that fails has met a place outside its text; the words alone are still true.
    if drawer.render_report(&mut words, &drawn).is_err() {
        words.push_str(&drawn.to_string());
    }
    words.push('\n');
    words
}

#[derive(Debug)]
struct DrawnFinding {
    message: String,
    help: Option<String>,
    rule: &'static str,
    severity: Severity,
    source: Excerpt,
    label: Option<LabeledSpan>,
}

impl DrawnFinding {
    fn new(shown: &str, built: &Built, finding: &Finding) -> DrawnFinding {
        let name = file_of(shown, built, finding);
        let text = built.files.text(finding.span.file).unwrap_or_default();
        let start = text.floor_char_boundary(finding.span.start);
        let end = text.ceil_char_boundary(finding.span.end.max(start));
        // What concerns the whole file points nowhere in it.
        let (first, excerpt) = around(&text, start, end);
        let label = (end > start).then(|| LabeledSpan::new(where_it_shows(finding), start - first, end - start));
        let label = label.filter(|_| excerpt.lines().all(|line| line.len() <= LINE));
        let place = built.files.line_column(finding.span);
        let name = match place {
            Some((line, column)) if end > start && label.is_none() => format!("{name}:{line}:{column}"),
            _ => name,
        };
        // Counted from the place, for a table may have a finding in every row.
        let lines = place.map_or(0, |(line, _)| line - 1 - text[first..start].matches('\n').count());
        let excerpt = label.as_ref().map_or_else(String::new, |_| shape_kept(excerpt));
        DrawnFinding {
            message: visible(&(cell(built, finding) + &finding.message)),
            help: help(shown, built, finding).as_deref().map(visible),
            rule: finding.rule,
            severity: finding.severity,
            source: Excerpt { name: visible(&name), text: excerpt, lines },
            label,
        }
    }
}

/// `on the front, 2 mm from its left edge`
fn where_it_shows(finding: &Finding) -> Option<String> {
    let (panel, edge) = (finding.subject.panel.as_ref()?, finding.subject.edge.as_ref()?);
    let far = number((edge.mm.abs() * 100.0).round() / 100.0);
    let way = if edge.mm < 0.0 { "over" } else { "from" };
    let edge =
        if matches!(edge.edge.as_str(), "left" | "right") { format!("{} edge", edge.edge) } else { edge.edge.clone() };
    Some(visible(&format!("on the {panel}, {far} mm {way} its {edge}")))
}

/// The way out, and where the limit was set if it is not the usual one.
fn help(shown: &str, built: &Built, finding: &Finding) -> Option<String> {
    let set = finding.subject.measured.as_ref().and_then(|measured| measured.set);
    let set = set.map(|span| {
        let file = beside(shown, &built.files.path(span.file).unwrap_or_default());
        let line = built.files.line_column(span).map_or(1, |(line, _)| line);
        format!("the limit is set in {file}:{line}")
    });
    let parts: Vec<String> = finding.help.clone().into_iter().chain(set).collect();
    (!parts.is_empty()).then(|| parts.join("\n"))
}

/// The lines of a place, the one before and the one after: what the drawer shows, and where it begins.
fn around(text: &str, start: usize, end: usize) -> (usize, &str) {
    let before = text[..start].rmatch_indices('\n').nth(1).map_or(0, |(at, _)| at + 1);
    let after = text[end..].match_indices('\n').nth(1).map_or(text.len(), |(at, _)| end + at);
    (before, &text[before..after])
}

/// A few lines of a file; how many stand above them.
#[derive(Debug)]
struct Excerpt {
    name: String,
    text: String,
    lines: usize,
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let lines = self.text.read_span(span, before, after)?;
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            lines.data(),
            *lines.span(),
            self.lines + lines.line(),
            lines.column(),
            lines.line_count(),
        )))
    }
}

/// The text with other letters for those that would steer the terminal, byte for byte, so that places stay where they are.
fn shape_kept(text: &str) -> String {
    let kept = |letter: char| matches!(letter, '\n' | '\t') || !steers(letter);
    let stand_in = |letter: char| match letter.len_utf8() {
        _ if kept(letter) => letter,
        1 if letter == '\r' => ' ',
        1 => '?',
        2 => '\u{bf}',
        _ => char::REPLACEMENT_CHARACTER,
    };
    text.chars().map(stand_in).collect()
}

impl fmt::Display for DrawnFinding {
    /// `error: …`, `warning: … (ink-over-limit)`: the name of a rule leads to its manual page.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", self.severity.word())?;
        if self.label.is_none() {
            write!(f, "{}: ", self.source.name)?;
        }
        f.write_str(&self.message)?;
        if matches!(self.rule, "language" | "file") { Ok(()) } else { write!(f, " ({})", self.rule) }
    }
}

impl std::error::Error for DrawnFinding {}

impl Diagnostic for DrawnFinding {
    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.severity {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
            Severity::Note => miette::Severity::Advice,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.label.as_ref().map(|_| &self.source as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.label.iter().cloned()))
    }
}
