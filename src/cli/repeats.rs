//! Repeats: what is found of a template in several of its titles is shown once, and then counted.

use crate::cli::location::file_of;
use crate::cli::say::visible;
use crate::ground::{Finding, Severity, count};
use crate::record::{Built, TABLE};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// So many titles are named to people, and to programs.
const NAMED: usize = 3;
const LISTED: usize = 1000;
/// More findings are not compared: they are shown in every title.
const MOST: usize = 10_000;

/// What is said of a finding.
pub struct FindingText {
    pub words: String,
    /// Where it may be found in other titles of a catalogue, too.
    pub repeats: Option<TemplateFinding>,
}

/// A finding that no cell of a title's row has part in: the same in every title where it is found.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TemplateFinding {
    file: String,
    line: usize,
    column: usize,
    severity: Severity,
    rule: String,
    message: String,
}

impl TemplateFinding {
    pub fn of(shown: &str, built: &Built, finding: &Finding) -> Option<TemplateFinding> {
        let is_of_template = finding.span.file != TABLE && built.cell(finding.span)?.1.is_none();
        let (line, column) = built.files.line_column(finding.span).unwrap_or((1, 1));
        is_of_template.then(|| TemplateFinding {
            file: file_of(shown, built, finding),
            line,
            column,
            severity: finding.severity,
            rule: finding.rule.to_owned(),
            message: finding.message.clone(),
        })
    }
}

/// The titles in which a finding was found.
#[derive(Default)]
struct Titles {
    count: usize,
    first: Vec<String>,
}

impl Titles {
    fn add(&mut self, title: &str) {
        self.count += 1;
        if self.first.len() < LISTED {
            self.first.push(title.to_owned());
        }
    }
}

/// What was shown of the titles so far.
#[derive(Default)]
pub struct Repeats(BTreeMap<TemplateFinding, Titles>);

impl Repeats {
    /// What is new of a title's findings.
    pub fn fresh(&mut self, title: &str, texts: Vec<FindingText>) -> String {
        let is_new = |text: &FindingText| {
            let Some(finding) = &text.repeats else { return true };
            if self.0.len() >= MOST && !self.0.contains_key(finding) {
                return true;
            }
            let titles = self.0.entry(finding.clone()).or_default();
            titles.add(title);
            titles.count == 1
        };
        texts.into_iter().filter(is_new).map(|text| text.words).collect()
    }

    /// One line for each finding that several titles share.
    pub fn summary(&self) -> String {
        let mut lines = String::new();
        for (finding, titles) in self.0.iter().filter(|(_, titles)| titles.count > 1) {
            let TemplateFinding { file, line, column, severity, message, .. } = finding;
            let named = titles.first.iter().take(NAMED).map(String::as_str).collect::<Vec<_>>().join(", ");
            let more = if titles.count > NAMED { " …" } else { "" };
            let (titles, severity) = (count(titles.count, "title"), severity.word());
            writeln!(lines, "in {titles} ({named}{more}): {severity}: {file}:{line}:{column}: {message}")
                .expect("a string takes every line");
        }
        visible(&lines)
    }
}

/// Takes what several titles share out of the objects of the covers, into objects of its own, each with its titles.
pub fn gather(covers: &mut [Value]) -> Vec<Value> {
    let mut shared: BTreeMap<String, (Value, Titles)> = BTreeMap::new();
    for cover in &*covers {
        for finding in cover["findings"].as_array().into_iter().flatten() {
            if let Some(key) = key(cover, finding) {
                let title = cover["name"].as_str().unwrap_or_default();
                let known = shared.entry(key).or_insert_with(|| (template_object(cover, finding), Titles::default()));
                known.1.add(title);
            }
        }
    }
    shared.retain(|_, (_, titles)| titles.count > 1);
    for cover in covers {
        let mut findings = cover["findings"].take();
        if let Some(findings) = findings.as_array_mut() {
            findings.retain(|finding| key(cover, finding).is_none_or(|key| !shared.contains_key(&key)));
        }
        cover["findings"] = findings;
    }
    let with_titles = |(mut object, titles): (Value, Titles)| {
        object["count"] = titles.count.into();
        object["titles"] = titles.first.into();
        object
    };
    shared.into_values().map(with_titles).collect()
}

fn key(cover: &Value, finding: &Value) -> Option<String> {
    let is_of_template = finding["row"].is_number() && finding["cell"].is_null() && finding["file"] != finding["table"];
    let parts = ["file", "line", "column", "severity", "rule", "message"].map(|part| &finding[part]);
    is_of_template.then(|| json!([cover["cover"], parts]).to_string())
}

/// A finding without what one title alone has.
fn template_object(cover: &Value, finding: &Value) -> Value {
    let mut object = finding.clone();
    if let Some(fields) = object.as_object_mut() {
        fields.remove("row");
        fields.remove("cell");
        fields.remove("place");
    }
    object["cover"] = cover["cover"].clone();
    object
}
