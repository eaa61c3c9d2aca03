//! Flags that several commands share: which covers, what is tried, how to report, how many processors, which store.

use crate::cli::exit::Exit;
use crate::cli::say;
use crate::disk::write;
use crate::targets::{Selection, Share, Target};
use clap::builder::EnumValueParser;
use clap::{Args, ValueEnum};
use std::path::{Path, PathBuf};

#[derive(Args)]
pub struct CoverArgs {
    /// Cover files, series, catalogues, or folders that hold them [default: this folder]
    #[arg(default_value = ".", hide_default_value = true)]
    pub files: Vec<PathBuf>,
    /// Only these editions [default: the cover as it stands, and all its editions]
    #[arg(long, value_name = "NAME", num_args = 1.., value_delimiter = ',')]
    pub edition: Vec<String>,
    /// Only these titles of a catalogue, by stem [default: all]
    #[arg(long, value_name = "STEM", num_args = 1.., value_delimiter = ',')]
    pub title: Vec<String>,
    /// Only one of N shares of the covers, for one of N machines: 2/5 is the second of five
    #[arg(long, value_name = "I/N", value_parser = share)]
    pub share: Option<Share>,
    #[arg(long, hide = true, value_name = "I/N", value_parser = shard)]
    shard: Option<Share>,
}

impl CoverArgs {
    pub fn selection(&self, out: Option<&Path>) -> Selection {
        Selection {
            files: self.files.clone(),
            out: out.map(Path::to_owned),
            editions: self.edition.clone(),
            titles: self.title.clone(),
            share: self.share,
        }
    }
}

fn share(typed: &str) -> Result<Share, String> {
    let numbers = typed.split_once('/').and_then(|(part, of)| Some((part.parse().ok()?, of.parse().ok()?)));
    match numbers {
        Some((part, of)) if (1..=of).contains(&part) => Ok(Share { part, of }),
        Some((0, of)) if of > 0 => Err(format!("parts are counted from 1: the first is 1/{of}")),
        Some((part, of)) if of > 0 => Err(format!("part {part} of {of} does not exist: the last is {of}/{of}")),
        _ => Err("write two whole numbers, such as 2/5 for the second of five parts".to_owned()),
    }
}

fn shard(typed: &str) -> Result<Share, String> {
    Err(format!("this option is called --share now: write --share {typed}"))
}

/// How grave findings are taken.
#[derive(Args)]
pub struct StrictArgs {
    /// Make errors of warnings; what a cover waives stays a note
    #[arg(long)]
    pub strict: bool,
}

impl StrictArgs {
    pub fn ask(&self, targets: &mut [Target]) {
        for target in targets {
            target.request.strict = self.strict;
        }
    }
}

#[derive(Args)]
pub struct TrialArgs {
    /// Try a fact of `book` or `format`: say what it would change, and write nothing. Examples:
    /// pages=328, paper.grammage=90, "trim=135 216". May be given several times
    #[arg(long = "try", value_name = "FACT=VALUE")]
    pub facts: Vec<String>,
}

/// How a command reports.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ReportFormat {
    /// Lines for people
    Text,
    /// One JSON object, for programs
    Json,
}

/// How a command reports whose result is findings.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum FindingsFormat {
    /// Lines for people
    Text,
    /// One JSON object, for programs
    Json,
    /// One SARIF log (OASIS, version 2.1.0), for programs that collect findings
    Sarif,
}

#[derive(Args)]
pub struct ReportArgs<F: ValueEnum + Send + Sync + 'static = ReportFormat> {
    /// How to report
    #[arg(long, value_name = "FORMAT", default_value = "text", value_parser = EnumValueParser::<F>::new())]
    pub report: F,
    /// Write the report for programs into this file, and print the lines for people as usual
    #[arg(long, value_name = "FILE", requires = "report")]
    pub report_file: Option<PathBuf>,
}

impl<F: ValueEnum + PartialEq + Send + Sync> ReportArgs<F> {
    /// Whether a report for programs is wanted: every format but the first, which is text.
    pub fn for_programs(&self) -> bool {
        F::value_variants().first() != Some(&self.report)
    }

    /// Whether people get lines on the output stream.
    pub fn for_people(&self) -> bool {
        !self.for_programs() || self.report_file.is_some()
    }

    /// Hands over a report for programs.
    pub fn hand_over(&self, report: &str) -> Exit {
        match &self.report_file {
            None => say::out(report),
            Some(file) => {
                if let Err(fault) = write(file, report.as_bytes()) {
                    say::stopped(&fault.to_string(), "name another file with --report-file");
                    return Exit::Stopped;
                }
            }
        }
        Exit::Clean
    }
}

/// How many processors a command takes, and what it keeps between runs.
#[derive(Args)]
pub struct WorkArgs {
    /// How many processors to use [default: all]
    #[arg(long, value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub jobs: Option<u16>,
    #[command(flatten)]
    pub store: StoreArgs,
}

#[derive(Args)]
pub struct StoreArgs {
    /// Keep here what is slow to make [default: JACONET_STORE, or `jaconet` in your folder of
    /// caches]
    #[arg(long, value_name = "DIR")]
    pub store: Option<PathBuf>,
    /// Keep nothing, and use nothing that was kept
    #[arg(long, conflicts_with = "store")]
    pub no_store: bool,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_counted_from_one() {
        assert_eq!(share("2/5"), Ok(Share { part: 2, of: 5 }));
        for slip in ["0/5", "6/5", "2", "a/b", "2/0", "0/0", "-1/2", ""] {
            assert!(share(slip).is_err(), "{slip}");
        }
        assert!(share("3/1").is_err_and(|why| why.contains("part 3 of 1 does not exist")));
        assert!(share("0/5").is_err_and(|why| why.contains("1/5")));
    }

    #[test]
    fn the_old_name_leads_to_the_new_one() {
        assert!(shard("2/5").is_err_and(|why| why.contains("--share 2/5")));
    }
}
