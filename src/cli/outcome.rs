//! Outcome: what came of a cover, and of all of them: lines for people, and one object for programs.

use crate::assets::Work;
use crate::cli::exit::Exit;
use crate::cli::location::cell;
use crate::cli::present::{json, summary};
use crate::cli::repeats::gather;
use crate::cli::reply::{Reply, findings, unread};
use crate::cli::run::AfterFault;
use crate::cli::say;
use crate::compile::{BuildResult, Delivered, TakenAway, WrittenFile, withdraw_unfinished};
use crate::ground::{Finding, Severity, count};
use crate::output::OUTPUTS;
use crate::record::Built;
use crate::record::TABLE;
use crate::targets::Target;
use serde_json::{Value, json};
use std::fmt::Write as _;

pub struct CoverOutcome {
    pub name: String,
    pub state: BuildState,
    /// Why it failed.
    pub reasons: Vec<String>,
    /// For programs.
    pub value: Value,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BuildState {
    Built,
    Unchanged,
    Failed,
}

impl BuildState {
    pub fn word(self) -> &'static str {
        match self {
            BuildState::Built => "built",
            BuildState::Unchanged => "unchanged",
            BuildState::Failed => "failed",
        }
    }
}

/// What to say of a cover now, and what to remember of it for the end. A cover alone lists every file; among others it
/// takes one line.
pub fn outcome(target: &Target, result: &BuildResult, alone: bool) -> (Reply, CoverOutcome) {
    let (reply, reasons) = match result {
        BuildResult::Unread(fault) => {
            let why = unread(target, fault);
            (Reply::stopped(&why), vec![why])
        }
        BuildResult::Unwritten(built, fault) => {
            let stopped = Reply::stopped(&fault.to_string());
            (Reply { found: findings(target, built), ..stopped }, vec![fault.to_string()])
        }
        BuildResult::Built(built, delivered) => {
            let out = if alone { files(target, built, delivered) } else { line(target, built, delivered) };
            let exit = Exit::from(&built.findings);
            (Reply { out, found: findings(target, built), ..Reply::silent(exit) }, errors(built))
        }
    };
    let (built, delivered) = match result {
        BuildResult::Built(built, delivered) => (Some(built), Some(delivered)),
        BuildResult::Unwritten(built, _) => (Some(built), None),
        BuildResult::Unread(_) => (None, None),
    };
    let unchanged = delivered.is_some_and(|delivered| delivered.unchanged);
    let state = match reply.exit {
        Exit::Clean if unchanged => BuildState::Unchanged,
        Exit::Clean => BuildState::Built,
        _ => BuildState::Failed,
    };
    let mut value = built.map_or_else(|| json!({ "cover": target.shown }), |built| json(&target.shown, built));
    value["name"] = json!(target.name);
    value["state"] = json!(state.word());
    value["reasons"] = json!(reasons);
    value["outputs"] = delivered.map_or_else(|| json!([]), outputs);
    (reply, CoverOutcome { name: target.name.clone(), state, reasons, value })
}

/// A catalogue without titles, for its errors.
fn untitled(shown: &str, built: &Built) -> Option<CoverOutcome> {
    let reasons = errors(built);
    if reasons.is_empty() {
        return None;
    }
    Some(CoverOutcome { name: shown.to_owned(), state: BuildState::Failed, reasons, value: Value::Null })
}

impl AfterFault for CoverOutcome {
    fn after_fault(target: &Target, why: String) -> CoverOutcome {
        withdraw_unfinished(target, OUTPUTS);
        let value =
            json!({ "cover": target.shown, "name": target.name, "state": BuildState::Failed.word(), "reasons": [why] });
        CoverOutcome { name: target.name.clone(), state: BuildState::Failed, reasons: vec![why], value }
    }
}

fn outputs(delivered: &Delivered) -> Value {
    let output = |written: &WrittenFile| {
        let file = written.path.to_string_lossy();
        json!({ "file": file, "bytes": written.bytes, "sha256": written.sha256.to_string() })
    };
    delivered.written.iter().map(output).collect()
}

/// The words of every error, with the cell that it points into.
fn errors(built: &Built) -> Vec<String> {
    let errors = built.findings.distinct().filter(|finding| finding.severity == Severity::Error);
    // What is wrong in the table itself comes first: the rest may only follow from it.
    let (own, rest): (Vec<&Finding>, Vec<&Finding>) = errors.partition(|finding| finding.span.file == TABLE);
    own.into_iter().chain(rest).map(|finding| cell(built, finding) + &finding.message).collect()
}

/// Every file with its size, and what was found.
fn files(target: &Target, built: &Built, delivered: &Delivered) -> String {
    let unchanged = if delivered.unchanged { "  unchanged" } else { "" };
    let lines = delivered.written.iter();
    let lines = lines.map(|written| format!("{}  {}{unchanged}\n", written.path.display(), size(written.bytes)));
    let withdrawn = delivered.withdrawn.iter();
    let withdrawn = withdrawn.map(|path| format!("{}  taken away: the cover has errors\n", path.display()));
    lines.chain(withdrawn).collect::<String>() + &summary(&target.name, built)
}

/// `salt: built, 6 files, 2.1 MB: no findings`
fn line(target: &Target, built: &Built, delivered: &Delivered) -> String {
    let found = summary(&target.name, built);
    let found = found.rsplit_once(": ").map_or("", |(_, found)| found.trim_end());
    let state = if delivered.unchanged { BuildState::Unchanged } else { BuildState::Built };
    let bytes = delivered.written.iter().map(|written| written.bytes).sum();
    let files = count(delivered.written.len(), "file");
    let withdrawn = if delivered.withdrawn.is_empty() { "" } else { ", older press file taken away" };
    format!("{}: {}, {files}, {}{withdrawn}: {found}\n", target.name, state.word(), size(bytes))
}

/// Totals at the end of a run.
pub struct Totals<'a> {
    pub all: &'a [CoverOutcome],
    /// Files of earlier runs that no cover makes any more.
    pub taken: &'a [TakenAway],
    /// What is wrong with catalogues as a whole.
    pub catalogues: &'a [(String, Built)],
    pub work: Work,
    pub seconds: f64,
}

impl Totals<'_> {
    fn count(&self, state: BuildState) -> usize {
        self.all.iter().filter(|outcome| outcome.state == state).count()
    }

    fn untitled(&self) -> Vec<CoverOutcome> {
        self.catalogues.iter().filter_map(|(shown, built)| untitled(shown, built)).collect()
    }

    pub fn text(&self) -> String {
        let states = [BuildState::Built, BuildState::Unchanged, BuildState::Failed];
        let counts: Vec<String> =
            states.iter().map(|state| format!("{} {}", self.count(*state), state.word())).collect();
        let Work { set, converted, compressed, lit } = self.work;
        let mut out = format!(
            "\n{}: {} in {:.1} s; {} set, {} converted, {} compressed, {} lit\n",
            count(self.all.len(), "cover"),
            counts.join(", "),
            self.seconds,
            count(set as usize, "text"),
            count(converted as usize, "picture"),
            count(compressed as usize, "stream"),
            count(lit as usize, "view"),
        );
        let untitled = self.untitled();
        for failed in untitled.iter().chain(self.all).filter(|outcome| outcome.state == BuildState::Failed) {
            let first = failed.reasons.first().map_or("", String::as_str);
            let more = failed.reasons.len().saturating_sub(1);
            let more = if more > 0 { format!(" (and {more} more)") } else { String::new() };
            writeln!(out, "failed: {}: {first}{more}", failed.name).expect("a string takes every line");
        }
        out
    }

    pub fn json(&self) -> String {
        let mut covers: Vec<Value> = self.all.iter().map(|outcome| outcome.value.clone()).collect();
        let templates = gather(&mut covers);
        let catalogues: Vec<Value> = self.catalogues.iter().map(|(shown, built)| json(shown, built)).collect();
        let taken = self.taken.iter().filter(|taken| !taken.is_left);
        let taken: Vec<String> = taken.map(|taken| taken.path.to_string_lossy().into_owned()).collect();
        let report = json!({
            "covers": covers,
            "catalogues": catalogues,
            "templates": templates,
            "taken-away": taken,
            "built": self.count(BuildState::Built),
            "unchanged": self.count(BuildState::Unchanged),
            "failed": self.count(BuildState::Failed),
            "seconds": (self.seconds * 1000.0).round() / 1000.0,
            "work": self.work,
        });
        say::json(&format_args!("{report:#}"))
    }
}

pub fn size(bytes: u64) -> String {
    const KB: f64 = 1000.0;
    let bytes = bytes as f64;
    if bytes < KB * KB { format!("{:.1} kB", bytes / KB) } else { format!("{:.1} MB", bytes / KB / KB) }
}
