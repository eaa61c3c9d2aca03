//! Outcome: what came of a cover, and of all: lines for eyes, and one object for programs.

use crate::assets::Work;
use crate::cli::build::{Faulted, Told, findings, unread};
use crate::cli::exit::Exit;
use crate::cli::present::{cell, json, summary};
use crate::cli::say::{self, count};
use crate::compile::{Delivered, Made, withdraw_press};
use crate::ground::{Finding, Severity};
use crate::record::Built;
use crate::record::TABLE;
use crate::targets::Target;
use serde_json::{Value, json};
use std::fmt::Write as _;

pub struct Outcome {
    pub name: String,
    pub state: State,
    /// Why it failed.
    pub reasons: Vec<String>,
    /// For programs.
    pub told: Value,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    Built,
    Unchanged,
    Failed,
}

impl State {
    pub fn word(self) -> &'static str {
        match self {
            State::Built => "built",
            State::Unchanged => "unchanged",
            State::Failed => "failed",
        }
    }
}

/// What to say of a cover now, and what to remember of it for the end. Alone it tells of every file; among others it
/// takes one line.
pub fn outcome(target: &Target, made: &Made, alone: bool) -> (Told, Outcome) {
    let (told, reasons) = match made {
        Made::Unread(fault) => {
            let why = unread(target, fault);
            (Told::stopped(&why), vec![why])
        }
        Made::Unwritten(built, fault) => {
            let stopped = Told::stopped(&fault.to_string());
            let error = findings(target, built) + &stopped.error;
            (Told { error, ..stopped }, vec![fault.to_string()])
        }
        Made::Built(built, delivered) => {
            let out = if alone { files(target, built, delivered) } else { line(target, built, delivered) };
            (Told { out, error: findings(target, built), exit: Exit::from(&built.findings) }, errors(built))
        }
    };
    let (built, delivered) = match made {
        Made::Built(built, delivered) => (Some(built), Some(delivered)),
        Made::Unwritten(built, _) => (Some(built), None),
        Made::Unread(_) => (None, None),
    };
    let unchanged = delivered.is_some_and(|delivered| delivered.unchanged);
    let state = match told.exit {
        Exit::Clean if unchanged => State::Unchanged,
        Exit::Clean => State::Built,
        _ => State::Failed,
    };
    let mut value = built.map_or_else(|| json!({ "cover": target.shown }), |built| json(&target.shown, built));
    value["name"] = json!(target.name);
    value["state"] = json!(state.word());
    value["reasons"] = json!(reasons);
    value["outputs"] = delivered.map_or_else(|| json!([]), outputs);
    (told, Outcome { name: target.name.clone(), state, reasons, told: value })
}

/// A catalogue without titles, for its errors.
fn untitled(shown: &str, told: &Built) -> Option<Outcome> {
    let reasons = errors(told);
    if reasons.is_empty() {
        return None;
    }
    Some(Outcome { name: shown.to_owned(), state: State::Failed, reasons, told: Value::Null })
}

impl Faulted for Outcome {
    fn faulted(target: &Target, why: String) -> Outcome {
        withdraw_press(target);
        let told =
            json!({ "cover": target.shown, "name": target.name, "state": State::Failed.word(), "reasons": [why] });
        Outcome { name: target.name.clone(), state: State::Failed, reasons: vec![why], told }
    }
}

fn outputs(delivered: &Delivered) -> Value {
    let output = |written: &crate::compile::Written| json!({ "file": written.path.to_string_lossy(), "bytes": written.bytes, "sha256": written.sha256.to_string() });
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
    let kept = if delivered.unchanged { "  unchanged" } else { "" };
    let lines = delivered.written.iter();
    let lines = lines.map(|written| format!("{}  {}{kept}\n", written.path.display(), size(written.bytes)));
    let withdrawn = delivered.withdrawn.iter();
    let withdrawn = withdrawn.map(|path| format!("{}  withdrawn: the cover has errors\n", path.display()));
    lines.chain(withdrawn).collect::<String>() + &summary(&target.name, built)
}

/// `salt: built, 6 files, 2.1 MB: no findings`
fn line(target: &Target, built: &Built, delivered: &Delivered) -> String {
    let found = summary(&target.name, built);
    let found = found.rsplit_once(": ").map_or("", |(_, found)| found.trim_end());
    let state = if delivered.unchanged { State::Unchanged } else { State::Built };
    let bytes = delivered.written.iter().map(|written| written.bytes).sum();
    let files = count(delivered.written.len(), "file");
    let withdrawn = if delivered.withdrawn.is_some() { ", press file withdrawn" } else { "" };
    format!("{}: {}, {files}, {}{withdrawn}: {found}\n", target.name, state.word(), size(bytes))
}

/// Sums at the end of a run.
pub struct Sums<'a> {
    pub all: &'a [Outcome],
    /// What is wrong with catalogues as a whole.
    pub catalogues: &'a [(String, Built)],
    pub work: Work,
    pub seconds: f64,
}

impl Sums<'_> {
    fn count(&self, state: State) -> usize {
        self.all.iter().filter(|outcome| outcome.state == state).count()
    }

    fn untitled(&self) -> Vec<Outcome> {
        self.catalogues.iter().filter_map(|(shown, told)| untitled(shown, told)).collect()
    }

    pub fn text(&self) -> String {
        let states = [State::Built, State::Unchanged, State::Failed];
        let counts: Vec<String> =
            states.iter().map(|state| format!("{} {}", self.count(*state), state.word())).collect();
        let Work { set, converted, compressed } = self.work;
        let mut out = format!(
            "\n{}: {} in {:.1} s; {set} texts set, {converted} pictures converted, {compressed} streams compressed\n",
            count(self.all.len(), "cover"),
            counts.join(", "),
            self.seconds
        );
        let untitled = self.untitled();
        for failed in untitled.iter().chain(self.all).filter(|outcome| outcome.state == State::Failed) {
            let first = failed.reasons.first().map_or("", String::as_str);
            let more = failed.reasons.len().saturating_sub(1);
            let more = if more > 0 { format!(" (and {more} more)") } else { String::new() };
            writeln!(out, "failed: {}: {first}{more}", failed.name).expect("a string takes every line");
        }
        out
    }

    pub fn json(&self) -> String {
        let covers: Vec<&Value> = self.all.iter().map(|outcome| &outcome.told).collect();
        let catalogues: Vec<Value> = self.catalogues.iter().map(|(shown, told)| json(shown, told)).collect();
        let told = json!({
            "covers": covers,
            "catalogues": catalogues,
            "built": self.count(State::Built),
            "unchanged": self.count(State::Unchanged),
            "failed": self.count(State::Failed),
            "seconds": (self.seconds * 1000.0).round() / 1000.0,
            "work": self.work,
        });
        say::json(&format_args!("{told:#}"))
    }
}

pub fn size(bytes: u64) -> String {
    const KB: f64 = 1000.0;
    let bytes = bytes as f64;
    if bytes < KB * KB { format!("{:.1} kB", bytes / KB) } else { format!("{:.1} MB", bytes / KB / KB) }
}
