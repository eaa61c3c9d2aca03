//! Manual: all pages there are. A page of a word is the head of the file that reads it; topics have texts of their own.

use crate::check;
use crate::cli::vocabulary::DELIVER;
use crate::language::{self, HEADWORDS};
use crate::output::{OUTPUTS, Output};
use crate::record::REPORT;
use crate::source::Word;
use clap::builder::{PossibleValue, PossibleValuesParser};

/// One page. Its first line says in a sentence what it is about.
pub struct Page {
    pub name: &'static str,
    /// `topic`, `word` or `rule`.
    pub kind: &'static str,
    pub text: String,
}

/// Every page; those of one kind stand together.
pub fn pages() -> Vec<Page> {
    let topics = topics(OUTPUTS).into_iter().map(|(name, text)| Page { name, kind: "topic", text });
    let words = words(OUTPUTS).into_iter().map(|(name, text)| Page { name, kind: "word", text });
    let rules = check::names().map(|name| Page { name, kind: "rule", text: check::explain(name).unwrap_or_default() });
    topics.chain(words).chain(rules).collect()
}

/// The headwords and their pages.
pub fn words(outputs: &[&Output]) -> Vec<(&'static str, String)> {
    let outputs: Vec<&Word> = outputs.iter().map(|output| &output.word).collect();
    HEADWORDS
        .iter()
        .map(|headword| {
            let name = headword.word.name;
            (name, language::page(headword, if name == DELIVER { &outputs } else { &[] }))
        })
        .collect()
}

/// The topics and their texts.
pub fn topics(outputs: &[&Output]) -> Vec<(&'static str, String)> {
    let text = |text: &str| text.replace(LISTED, &listed(outputs));
    TOPICS.iter().map(|(name, own)| (*name, text(own))).collect()
}

/// The line of a topic in whose place the outputs are listed.
const LISTED: &str = "    {outputs}\n";
const REPORT_MANUAL: &str = "the report: measures, inputs, fonts, pictures, inks, elements, findings, outputs";

/// A line for each output: its first file, what it is, and what `--only` calls it.
fn listed(outputs: &[&Output]) -> String {
    let own = outputs.iter().filter_map(|output| Some((*output.files.first()?, output.word.says)));
    let report = ("report.json", REPORT_MANUAL);
    let lines: Vec<String> =
        own.chain([report]).map(|(file, manual)| format!("    STEM-{file:<15}{manual}\n")).collect();
    lines.concat()
}

/// What `--only` takes.
pub fn only(outputs: &[&Output]) -> PossibleValuesParser {
    let own = outputs.iter().map(|output| (output.word.name, output.word.says));
    own.chain([(REPORT, REPORT_MANUAL)])
        .map(|(name, manual)| PossibleValue::new(name).help(manual))
        .collect::<Vec<_>>()
        .into()
}

const TOPICS: &[(&str, &str)] = &[
    ("kdl", include_str!("topics/kdl.txt")),
    ("units", include_str!("topics/units.txt")),
    ("files", include_str!("topics/files.txt")),
    ("fonts", include_str!("topics/fonts.txt")),
    ("order", include_str!("topics/order.txt")),
    ("recipes", include_str!("topics/recipes.txt")),
    ("limits", include_str!("topics/limits.txt")),
    ("checking", include_str!("topics/checking.txt")),
    ("tidy", include_str!("topics/tidy.txt")),
    ("press-files", include_str!("topics/press-files.txt")),
    ("compare", include_str!("topics/compare.txt")),
    ("catalogue", include_str!("topics/catalogue.txt")),
    ("tables", include_str!("topics/tables.txt")),
    ("shelf", include_str!("topics/shelf.txt")),
    ("inputs", include_str!("topics/inputs.txt")),
    ("bounds", include_str!("topics/bounds.txt")),
    ("store", include_str!("topics/store.txt")),
    ("exit-codes", include_str!("topics/exit-codes.txt")),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outputs_are_offered_and_explained_by_their_entries() {
        let word = Word::new("sampler", "a sampler for the test");
        let new = Output { word, files: &["sampler.txt"], ..*OUTPUTS[0] };
        let outputs = [OUTPUTS, &[&new]].concat();
        let (_, files) = topics(&outputs).into_iter().find(|(name, _)| *name == "files").expect("there is a page");
        assert!(files.contains("    STEM-press.pdf      the press PDF") && !files.contains(LISTED), "{files}");
        assert!(files.contains("    STEM-sampler.txt    a sampler for the test\n"), "{files}");
        let (_, deliver) = words(&outputs).into_iter().find(|(name, _)| *name == DELIVER).expect("there is a page");
        assert!(
            deliver.contains("  - `press marks|bleed|trim`: ") && deliver.contains("    - `ppi=PIXELS-"),
            "{deliver}"
        );
        assert!(deliver.contains("  - `sampler`: a sampler for the test\n"), "{deliver}");
        let command = clap::Command::new("x").arg(clap::Arg::new("only").long("only").value_parser(only(&outputs)));
        for (name, known) in [("sampler", true), ("press", true), ("report", true), ("samler", false)] {
            assert_eq!(command.clone().try_get_matches_from(["x", "--only", name]).is_ok(), known, "{name}");
        }
    }

    #[test]
    fn every_page_begins_with_a_sentence() {
        for page in pages() {
            let first = page.text.lines().next().unwrap_or_default();
            assert!(first.ends_with('.') && first.chars().count() < 120, "{}: {first}", page.name);
        }
    }
}
