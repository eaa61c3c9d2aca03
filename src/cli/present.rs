//! Findings: what is said of them to people, in sum and in part, and as JSON.

use crate::cli::drawn::drawn;
use crate::cli::repeats::{FindingText, TemplateFinding};
use crate::cli::say::visible;
use crate::ground::{Finding, Severity, count};
use crate::record::{Built, located};
use std::cmp::Reverse;

/// Nobody reads more at once.
const SHOWN: usize = 60;

/// Every finding with its line. Of very many the gravest come first, and the others are counted.
pub fn texts(shown: &str, built: &Built, colourful: bool) -> Vec<FindingText> {
    let mut reported: Vec<&Finding> = built.findings.distinct().collect();
    if reported.len() > SHOWN {
        reported.sort_by_key(|finding| Reverse(finding.severity));
    }
    let more = reported.split_off(reported.len().min(SHOWN));
    let text = |finding: &Finding| FindingText {
        words: drawn(shown, built, finding, colourful),
        repeats: TemplateFinding::of(shown, built, finding),
    };
    let mut texts: Vec<FindingText> = reported.into_iter().map(text).collect();
    if !more.is_empty() {
        let words = format!("  … and {} more; `jaconet check --report json` lists them\n\n", counts(&more).join(", "));
        texts.push(FindingText { words, repeats: None });
    }
    texts
}

/// The same in one.
pub fn text(shown: &str, built: &Built, colourful: bool) -> String {
    texts(shown, built, colourful).into_iter().map(|text| text.words).collect()
}

/// `2 errors`, `1 warning`
fn counts(findings: &[&Finding]) -> Vec<String> {
    let counts = [Severity::Error, Severity::Warning, Severity::Note].into_iter().filter_map(|severity| {
        let number = findings.iter().filter(|finding| finding.severity == severity).count();
        (number > 0).then(|| count(number, severity.word()))
    });
    counts.collect()
}

/// `cover.kdl: 2 errors, 1 warning`
pub fn summary(shown: &str, built: &Built) -> String {
    let mut counts = counts(&built.findings.distinct().collect::<Vec<_>>());
    let more = built.findings.left_out();
    counts.extend((more > 0).then(|| format!("and {more} more that are not listed")));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::MapShelf;
    use crate::cli::drawn::LINE;
    use crate::cli::say::steers;
    use crate::compile::{Workshop, build};
    use crate::record::CoverRequest;

    fn built(bytes: &[u8]) -> Built {
        let shelf = MapShelf::default().with("cover.kdl", bytes);
        build(&Workshop::default(), &shelf, &CoverRequest::of("cover.kdl")).expect("the file is there")
    }

    #[test]
    fn a_finding_stands_under_its_line() {
        let built = built(b"book {\n    pages 10pt\n}\n");
        let stated = text("a/cover.kdl", &built, false);
        assert!(stated.contains("error: `10pt` is not a number"), "{stated}");
        assert!(stated.contains("a/cover.kdl:2:11") && stated.contains(" 2 \u{2502}     pages 10pt"), "{stated}");
        assert!(!stated.contains('\u{1b}') && text("a/cover.kdl", &built, true).contains('\u{1b}'));
        assert_eq!(summary("a/cover.kdl", &built), "a/cover.kdl: 1 error\n");
        assert_eq!(json("a/cover.kdl", &built)["findings"][0]["column"], 11);
    }

    #[test]
    fn a_line_too_long_to_show_is_reported_by_its_number() {
        for blanks in [LINE, 70_000] {
            let built = built(format!("book {{\n{} pages 10pt\n}}\n", " ".repeat(blanks)).as_bytes());
            let stated = text("a/cover.kdl", &built, false);
            let place = format!("error: a/cover.kdl:2:{}: `10pt` is not a number", blanks + 8);
            assert!(stated.contains(&place), "{stated}");
            assert!(stated.lines().all(|line| line.len() < LINE), "{stated}");
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
            let stated = text("cover.kdl", &built(bytes), false);
            assert!(stated.contains("error"), "{stated}");
            assert!(!stated.chars().any(|letter| steers(letter) && letter != '\n'), "{stated:?}");
        }
    }

    #[test]
    fn no_number_of_warnings_hides_an_error() {
        // Thirty overlong titles of elements that lie off the sheet are warnings; the mistake stands in the last line.
        let off = |at: usize| format!("oval o{at} {{ swatch black; left 900; width 5; top 0; height 5 }}\n");
        let ovals: String = (0..SHOWN + 5).map(off).collect();
        let head = "book { title \"Salt\"; pages 320 }\nformat paperback { trim 129 198 }\npanel front {\n";
        let built = built(format!("{head}{ovals}txet {{}}\n}}\n").as_bytes());
        let stated = text("cover.kdl", &built, false);
        assert!(stated.trim_start().starts_with("× error: `txet` is unknown"), "{stated}");
        let warnings = built.findings.distinct().filter(|finding| finding.severity == Severity::Warning).count();
        let errors = built.findings.distinct().filter(|finding| finding.severity == Severity::Error).count();
        let more = format!("… and {} warnings", warnings + errors - SHOWN);
        assert!(warnings > SHOWN && stated.contains(&more), "{more}: {stated}");
    }
}
