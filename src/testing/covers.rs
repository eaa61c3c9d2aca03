//! Covers: a cover built for a test, and the little that a test may ask of it.

use crate::assets::{Darkroom, MapShelf};
use crate::check::{PAGES, explain, limits_in_force, names, rules_with_limits};
use crate::compile::{Workshop, build};
use crate::cover::StatedLimits;
use crate::ground::{Findings, Severity};
use crate::language::{HEADWORDS, Role, usual_settings};
use crate::output::{OUTPUTS, OutputJob, Particulars};
use crate::record::CoverRequest;
use crate::scene::{OutputSettings, Scene};

/// Builds covers one after the other and keeps what is slow to make between them.
#[derive(Default)]
pub struct CoverTester(Workshop);

/// A built cover. The rules of the check have tests of their own: here stands what reading and drawing said.
pub struct TestedCover {
    /// By place.
    pub notes: Vec<TestedFinding>,
    /// `None` when the file is not KDL.
    pub scene: Option<Scene>,
}

/// One finding as a test sees it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TestedFinding {
    /// Empty for the cover itself.
    pub file: String,
    /// From 1; both are 1 where a finding has no place.
    pub line: usize,
    pub column: usize,
    /// How many characters it points at, on its first line.
    pub columns: usize,
    /// `error`, `warning` or `note`.
    pub severity: &'static str,
    /// What a finding is called: `language`, `overmatter`.
    pub rule: &'static str,
    pub message: String,
    pub help: String,
}

impl CoverTester {
    /// A cover that finds these files beside it.
    pub fn build<'a>(&self, text: &str, files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> TestedCover {
        self.telling(text, files, |rule| PAGES.iter().any(|(name, _)| *name == rule))
    }

    /// The same, with everything that the rules find.
    pub fn checked<'a>(&self, text: &str, files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> TestedCover {
        self.telling(text, files, |_| true)
    }

    fn telling<'a>(
        &self,
        text: &str,
        files: impl IntoIterator<Item = (&'a str, &'a [u8])>,
        wanted: fn(&str) -> bool,
    ) -> TestedCover {
        let shelf = files.into_iter().fold(MapShelf::default(), |shelf, (path, bytes)| shelf.with(path, bytes));
        let shelf = shelf.with(COVER, text.as_bytes());
        let built = build(&self.0, &shelf, &CoverRequest::of(COVER)).expect("the cover was put on the shelf");
        let spoken = built.findings.iter().filter(|finding| wanted(finding.rule));
        let noted = |finding: &crate::ground::Finding| {
            let file = built.files.text(finding.span.file).unwrap_or_default();
            let (line, column) = built.files.line_column(finding.span).unwrap_or((1, 1));
            let pointed = file.get(finding.span.start..finding.span.end).unwrap_or_default();
            let columns = pointed.lines().next().unwrap_or_default().chars().count();
            let help = finding.help.clone().unwrap_or_default();
            let path = built.files.path(finding.span.file).filter(|path| path != COVER);
            TestedFinding {
                file: path.unwrap_or_default(),
                line,
                column,
                columns,
                severity: finding.severity.word(),
                rule: finding.rule,
                message: finding.message.clone(),
                help,
            }
        };
        TestedCover { notes: spoken.map(noted).collect(), scene: built.design.map(|design| design.scene) }
    }

    /// The press file of a scene, whatever was found.
    pub fn press(&self, scene: &Scene) -> Vec<u8> {
        let output = OUTPUTS.iter().find(|output| output.word.name == "press").expect("there is a press file");
        let made = (output.write)(&OutputJob {
            scene,
            findings: &Findings::default(),
            particulars: &Particulars::default(),
            settings: &usual_settings(&output.word),
            darkroom: &self.0.darkroom,
        });
        made.into_iter().next().map(|made| made.bytes.whole().into_owned()).unwrap_or_default()
    }

    /// Every file that a scene is written to, as name and bytes; pictures at so many pixels per inch.
    pub fn files(&self, scene: &Scene, ppi: f64) -> Vec<(String, Vec<u8>)> {
        let darkroom: &Darkroom = &self.0.darkroom;
        let made = OUTPUTS.iter().flat_map(|output| {
            let settings = &OutputSettings { ppi, ..usual_settings(&output.word) };
            (output.write)(&OutputJob {
                scene,
                findings: &Findings::default(),
                particulars: &Particulars::default(),
                settings,
                darkroom,
            })
        });
        made.map(|made| (made.name, made.bytes.whole().into_owned())).collect()
    }
}

impl TestedCover {
    pub fn faulty(&self) -> bool {
        self.notes.iter().any(|note| note.severity == Severity::Error.word())
    }
}

/// The words of the language: name, `fact`, `element` or `holder`, manual page.
pub fn language() -> Vec<(&'static str, &'static str, String)> {
    let kind = |role| match role {
        Role::Fact(_) => "fact",
        Role::Element(..) => "element",
        Role::Holder => "holder",
    };
    let pages = crate::cli::words(OUTPUTS).into_iter().map(|(_, page)| page);
    HEADWORDS.iter().zip(pages).map(|(word, page)| (word.word.name, kind(word.role), page)).collect()
}

/// The topics of the manual: name and page.
pub fn topics() -> Vec<(String, String)> {
    crate::cli::topics(OUTPUTS).into_iter().map(|(name, text)| (name.to_owned(), text)).collect()
}

/// The manual page of whatever a finding may be called, by its name.
pub fn rules() -> Vec<(&'static str, String)> {
    names().map(|name| (name, explain(name).unwrap_or_default())).collect()
}

/// Every limit of every rule: rule, name, usual value, what it limits, and where the value comes from.
pub fn limits() -> Vec<[String; 5]> {
    let usual = StatedLimits::default();
    let of = |rule: &'static str| {
        let all = limits_in_force(rule, &usual).into_iter();
        all.map(move |limit| [rule, limit.name, &limit.usual, limit.says, limit.source].map(str::to_owned))
    };
    rules_with_limits().flat_map(of).collect()
}

const COVER: &str = "cover.kdl";
