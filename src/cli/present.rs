//! Findings for people, with their lines, or as JSON. The one door to the drawer of reports.

use crate::assets::tidy;
use crate::cli::say::{count, steers, visible};
use crate::ground::{Finding, Severity};
use crate::record::{Built, located};
use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode};
use std::fmt::{self, Write as _};

/// Nobody reads more at once.
const SHOWN: usize = 60;
/// A line longer than this, such as a whole table of JSON, is shown by its number alone. The drawer indents by a width of
/// 16 bits and knows no other.
const LINE: usize = 500;

/// Every finding with its line, then one line that sums them up.
pub fn text(shown: &str, built: &Built, colourful: bool) -> String {
    let theme = if colourful { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let drawer = GraphicalReportHandler::new_themed(theme).with_links(false).with_width(100).with_wrap_lines(false);
    let mut said = String::new();
    for finding in built.findings.distinct().take(SHOWN) {
        let drawn = DrawnFinding::new(shown, built, finding);
        // A drawer that fails has met a place outside its text; the words alone are still true.
        if drawer.render_report(&mut said, &drawn).is_err() {
            said.push_str(&drawn.to_string());
        }
        said.push('\n');
    }
    let told = built.findings.distinct().count();
    if told > SHOWN {
        let more = told - SHOWN;
        writeln!(said, "  … and {more} more; `jaconet check --report json` lists them\n")
            .expect("a string takes every line");
    }
    said
}

/// `cover.kdl: 2 errors, 1 warning`
pub fn summary(shown: &str, built: &Built) -> String {
    let counts = [Severity::Error, Severity::Warning, Severity::Note].into_iter().filter_map(|severity| {
        let number = built.findings.distinct().filter(|finding| finding.severity == severity).count();
        (number > 0).then(|| count(number, severity.word()))
    });
    let more = built.findings.left_out();
    let more = (more > 0).then(|| format!("and {more} more that are not listed"));
    let counts: Vec<String> = counts.chain(more).collect();
    let counts = if counts.is_empty() { "no findings".to_owned() } else { counts.join(", ") };
    format!("{}: {counts}\n", visible(shown))
}

/// One object a cover; what is found of a title has its table, row and column.
pub fn json(shown: &str, built: &Built) -> serde_json::Value {
    let finding = |finding: &Finding| {
        let mut value = serde_json::json!(located(&built.files, finding));
        if let (Some(title), Some((row, column))) = (&built.request.title, built.cell(finding.span)) {
            value["table"] = title.sheet.path.as_str().into();
            value["row"] = row.into();
            value["cell"] = column.into();
        }
        value
    };
    let findings: Vec<_> = built.findings.iter().map(finding).collect();
    serde_json::json!({ "cover": shown, "findings": findings, "unlisted": built.findings.left_out() })
}

#[derive(Debug)]
struct DrawnFinding {
    message: String,
    help: Option<String>,
    rule: &'static str,
    severity: Severity,
    source: NamedSource<String>,
    label: Option<LabeledSpan>,
}

/// The file that a finding points into, from where the command was typed: paths count from the folder of the typed file.
pub fn file_of(shown: &str, built: &Built, finding: &Finding) -> String {
    let file = built.files.path(finding.span.file).unwrap_or_default();
    match shown.rsplit_once('/') {
        Some((folder, _)) => tidy(&format!("{folder}/{file}")),
        None => file,
    }
}

/// `titles.csv, row 7, isbn: ` before what concerns a title of a catalogue.
pub fn cell(built: &Built, finding: &Finding) -> String {
    let (Some(title), Some((row, column))) = (&built.request.title, built.cell(finding.span)) else {
        return String::new();
    };
    let column = column.map_or_else(String::new, |column| format!(", {column}"));
    format!("{}, row {row}{column}: ", title.sheet.path)
}

impl DrawnFinding {
    fn new(shown: &str, built: &Built, finding: &Finding) -> DrawnFinding {
        let name = file_of(shown, built, finding);
        let text = built.files.text(finding.span.file).unwrap_or_default();
        let start = text.floor_char_boundary(finding.span.start);
        let end = text.ceil_char_boundary(finding.span.end.max(start));
        // What concerns the whole file points nowhere in it.
        let label = (end > start).then(|| LabeledSpan::new(None, start, end - start));
        let label = label.filter(|_| around(&text, start, end).lines().all(|line| line.len() <= LINE));
        let name = match built.files.line_column(finding.span) {
            Some((line, column)) if end > start && label.is_none() => format!("{name}:{line}:{column}"),
            _ => name,
        };
        DrawnFinding {
            message: visible(&(cell(built, finding) + &finding.message)),
            help: finding.help.as_deref().map(visible),
            rule: finding.rule,
            severity: finding.severity,
            source: NamedSource::new(visible(&name), label.as_ref().map_or_else(String::new, |_| shape_kept(&text))),
            label,
        }
    }
}

/// The lines of a place, the one before and the one after: what the drawer shows.
fn around(text: &str, start: usize, end: usize) -> &str {
    let before = text[..start].rmatch_indices('\n').nth(1).map_or(0, |(at, _)| at + 1);
    let after = text[end..].match_indices('\n').nth(1).map_or(text.len(), |(at, _)| end + at);
    &text[before..after]
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
            write!(f, "{}: ", self.source.name())?;
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::MapShelf;
    use crate::compile::{Workshop, build};
    use crate::record::CoverRequest;

    fn built(bytes: &[u8]) -> Built {
        let shelf = MapShelf::default().with("cover.kdl", bytes);
        build(&Workshop::default(), &shelf, &CoverRequest::of("cover.kdl")).expect("the file is there")
    }

    #[test]
    fn a_finding_stands_under_its_line() {
        let built = built(b"book {\n    pages 10pt\n}\n");
        let said = text("a/cover.kdl", &built, false);
        assert!(said.contains("error: `10pt` is no number"), "{said}");
        assert!(said.contains("a/cover.kdl:2:11") && said.contains(" 2 \u{2502}     pages 10pt"), "{said}");
        assert!(!said.contains('\u{1b}') && text("a/cover.kdl", &built, true).contains('\u{1b}'));
        assert_eq!(summary("a/cover.kdl", &built), "a/cover.kdl: 1 error\n");
        assert_eq!(json("a/cover.kdl", &built)["findings"][0]["column"], 11);
    }

    #[test]
    fn a_line_too_long_to_show_is_told_by_its_number() {
        for blanks in [LINE, 70_000] {
            let built = built(format!("book {{\n{} pages 10pt\n}}\n", " ".repeat(blanks)).as_bytes());
            let said = text("a/cover.kdl", &built, false);
            let place = format!("error: a/cover.kdl:2:{}: `10pt` is no number", blanks + 8);
            assert!(said.contains(&place), "{said}");
            assert!(said.lines().all(|line| line.len() < LINE), "{said}");
        }
    }

    #[test]
    fn no_cover_steers_the_terminal() {
        for bytes in [
            &b"\"\\u{1b}[31mred\""[..],
            b"book \x1b[31m",
            b"\"\\u{7}\" { a 10pt }",
            b"a\x9b\xff",
            b"book {\r a\r}\r",
            "// \u{202e}\u{2066}\nbook { title \"\\u{202e}\" }".as_bytes(),
            b"zz \"\\u{202e}\\u{2066}\"",
        ] {
            let said = text("cover.kdl", &built(bytes), false);
            assert!(said.contains("error"), "{said}");
            assert!(!said.chars().any(|letter| steers(letter) && letter != '\n'), "{said:?}");
        }
    }
}
