//! `jaconet compare`: what changed between two designs of a cover.

use crate::cli::compare_pdfs::{compare_keyline, compare_pdfs, is_pdf};
use crate::cli::design::{DesignSource, LoadedDesign, Visible, load};
use crate::cli::exit::Exit;
use crate::cli::flags::ReportArgs;
use crate::cli::pairs::{DesignPair, pairs, with_past};
use crate::cli::reply::Reply;
use crate::cli::say::{self, stopped};
use crate::compare::{View, compare, in_words, picture, resized};
use crate::compile::Workshop;
use crate::disk::write;
use crate::ground::{Severity, count};
use clap::Args;
use rayon::prelude::*;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

#[derive(Args)]
#[command(after_help = "Exit code: 0 whether or not they differ, 1 when the new design has errors, 2 could not run.\n\
    A picture of both, with frames where they differ, is written when --picture names a file.")]
pub struct CompareArgs {
    /// The old design, then the new one: cover files, folders that hold a cover.kdl or several below, built reports
    /// (STEM-report.json), or folders of reports; with --rev only the new design. Two PDFs are
    /// the one that was sent to the printer and the one that came back; a cover and a PDF are
    /// the cover and the printer's drawing of trim and folds
    #[arg(required = true, num_args = 1..=2, value_names = ["OLD", "NEW"])]
    pub designs: Vec<PathBuf>,
    /// Take the old design from this revision of the git repository that holds the file
    #[arg(long, value_name = "REV", allow_hyphen_values = true)]
    pub rev: Option<String>,
    /// Only these editions of covers [default: the cover as it stands, and all its editions]
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    pub edition: Vec<String>,
    /// Write a picture of both, old on the left, as PNG; of several pairs each that differs has
    /// one, named FILE-STEM.png
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
    #[command(flatten)]
    pub report: ReportArgs,
}

pub fn run(args: &CompareArgs) -> Exit {
    if let ([old, new], None) = (&args.designs[..], &args.rev)
        && is_pdf(new)
    {
        let compare = if is_pdf(old) { compare_pdfs } else { compare_keyline };
        return compare(old, new, &args.report);
    }
    let found = match (&args.designs[..], &args.rev) {
        ([old, new], None) => pairs(old, new, &args.edition),
        ([new], Some(rev)) => with_past(new, rev, &args.edition),
        ([_], None) => Err((
            "there is nothing to compare it with".to_owned(),
            "name two designs: `jaconet compare OLD NEW`; or a revision: `jaconet compare FILE --rev HEAD`".to_owned(),
        )),
        _ => Err((
            "--rev stands in for the old design".to_owned(),
            "name only the new one: `jaconet compare FILE --rev HEAD`".to_owned(),
        )),
    };
    let pairs = match found {
        Ok(pairs) => pairs,
        Err((why, help)) => {
            stopped(&why, &help);
            return Exit::Stopped;
        }
    };
    let workshop = Workshop::default();
    let many = pairs.len() > 1;
    let compared: Vec<Compared> = pairs.par_iter().map(|pair| one(&workshop, pair, many, args)).collect();
    let mut exit = Exit::Clean;
    for Compared { reply, .. } in &compared {
        say::error(&reply.error);
        if args.report.for_people() {
            say::out(&reply.out);
        }
        exit = exit.max(reply.exit);
    }
    if many && args.report.for_people() {
        let changed = compared.iter().filter(|one| one.differs).count();
        let same = compared.len() - changed;
        say::out(&format!("{}: {changed} changed, {same} unchanged\n", count(compared.len(), "cover")));
    }
    if args.report.for_programs() {
        let values: Vec<Value> = compared.into_iter().filter_map(|one| one.value).collect();
        exit = exit.max(args.report.hand_over(&comparisons(&values)));
    }
    exit
}

/// What came of one pair.
struct Compared {
    reply: Reply,
    /// For programs; `None` when they could not be compared.
    value: Option<Value>,
    differs: bool,
}

/// Among many, pairs that do not differ are only counted.
fn one(workshop: &Workshop, pair: &DesignPair, many: bool, args: &CompareArgs) -> Compared {
    let stopped = |why: &str| Compared { reply: Reply::stopped(why), value: None, differs: true };
    let (old, new) = match (&pair.old, &pair.new) {
        (Some(old), Some(new)) => (old, new),
        (lone, other) => {
            let shown = lone.as_ref().or(other.as_ref()).map_or("", |source| source.shown());
            let (reply, value) = alone(lone.is_some(), shown);
            return Compared { reply, value: Some(value), differs: true };
        }
    };
    let loaded = load(workshop, old).and_then(|old| Ok((old, load(workshop, new)?)));
    let (old, new) = match loaded {
        Ok(both) => both,
        Err(why) => return stopped(&why),
    };
    let (mut reply, value, differs) = changes(&old, &new);
    if many && !differs {
        reply.out.clear();
        return Compared { reply, value: Some(value), differs };
    }
    if let Some(file) = &args.picture {
        let stem = pair.new.as_ref().map_or_else(String::new, DesignSource::stem);
        let file = if many { &beside(file, &stem) } else { file };
        match draw(workshop, &old, &new, file) {
            Ok(line) => reply.out += &line,
            Err(Some(why)) => return stopped(&why),
            Err(None) => {
                let why = "no picture: a report has one only when its flat picture (STEM-flat.png) lies beside it";
                reply.error = format!("jaconet: {why}\n");
            }
        }
    }
    Compared { reply, value: Some(value), differs }
}

/// `a.png` becomes `a-salt.png`.
fn beside(file: &Path, stem: &str) -> PathBuf {
    let name = file.file_stem().unwrap_or_default().to_string_lossy();
    let ending = file.extension().map_or_else(String::new, |ending| format!(".{}", ending.to_string_lossy()));
    file.with_file_name(format!("{name}-{stem}{ending}"))
}

/// What changed from one to the other, for people and for programs, and whether anything did; an error of the new one is
/// an error.
pub fn changes(old: &LoadedDesign, new: &LoadedDesign) -> (Reply, Value, bool) {
    let changes = compare(&old.outline, &new.outline);
    let faults = new.outline.findings.iter().filter(|finding| finding.severity == Severity::Error).count();
    let mut out = in_words(&format!("{} → {}", old.shown, new.shown), &changes);
    if faults > 0 {
        out += &["  ", &new.shown, ": ", &count(faults, "error"), "\n"].concat();
    }
    let exit = if faults > 0 { Exit::Errors } else { Exit::Clean };
    let value = json!({ "old": old.shown, "new": new.shown, "changes": changes });
    (Reply { out, ..Reply::silent(exit) }, value, !changes.0.is_empty())
}

/// The report of many comparisons.
pub fn comparisons(values: &[Value]) -> String {
    let report = json!({ "comparisons": values });
    say::json(&format_args!("{report:#}"))
}

/// A cover that only one side has.
fn alone(is_old: bool, shown: &str) -> (Reply, Value) {
    let side = if is_old { "old" } else { "new" };
    let out = format!("{shown}: only among the {side} ones\n");
    let value = json!({ "old": is_old.then_some(shown), "new": (!is_old).then_some(shown), "changes": null });
    (Reply { out, ..Reply::silent(Exit::Clean) }, value)
}

/// `Err(None)` when there is nothing to look at.
fn draw(workshop: &Workshop, old: &LoadedDesign, new: &LoadedDesign, file: &Path) -> Result<String, Option<String>> {
    // Light lies on the folds of a finished picture: one is compared with another.
    let finished = match (&old.visible, &new.visible) {
        (Visible::Flat(flat), Visible::Drawn(scene)) | (Visible::Drawn(scene), Visible::Flat(flat)) => {
            flat.like(scene, &workshop.darkroom).map_or(Visible::None, |flat| Visible::Flat(Box::new(flat)))
        }
        _ => Visible::None,
    };
    let (Some(one), Some(other)) = (old.visible.view_or(&finished), new.visible.view_or(&finished)) else {
        return Err(None);
    };
    let resized = resized(&old.outline, &new.outline);
    let shown = picture(&one, &other, &resized, &workshop.darkroom);
    write(file, &shown.png).map_err(|fault| Some(fault.to_string()))?;
    Ok(format!("{}: {} framed\n", file.display(), count(shown.places.len(), "place")))
}

impl Visible {
    /// Itself, or what a drawn one looks like finished.
    fn view_or<'a>(&'a self, finished: &'a Visible) -> Option<View<'a>> {
        match (self, finished) {
            (Visible::Drawn(_), Visible::Flat(flat)) | (Visible::Flat(flat), _) => Some(View::Flat(flat)),
            (Visible::Drawn(scene), _) => Some(View::Drawn(scene)),
            (Visible::None, _) => None,
        }
    }
}
