//! `jaconet compare`: what changed between two designs of a cover.

use crate::cli::build::Told;
use crate::cli::design::{Design, Sight, Source, load};
use crate::cli::exit::Exit;
use crate::cli::pairs::{Pair, pairs, with_past};
use crate::cli::say::{self, count, stopped};
use crate::compare::{Changes, View, compare, grown, picture, told as in_words};
use crate::compile::Workshop;
use crate::disk::write;
use crate::ground::Severity;
use clap::{Args, ValueEnum};
use rayon::prelude::*;
use std::path::{Path, PathBuf};

#[derive(Args)]
#[command(after_help = "Exit code: 0 whether or not they differ, 1 when the new design has errors, 2 could not run.\n\
    A picture of both, with frames where they differ, is written when --picture names a file.")]
pub struct CompareArgs {
    /// The old design, then the new one: cover files, folders that hold a cover.kdl or several below, built reports
    /// (STEM-report.json), or folders of reports; with --rev the new design alone
    #[arg(required = true, num_args = 1..=2, value_names = ["OLD", "NEW"])]
    pub designs: Vec<PathBuf>,
    /// Take the old design from this revision of the git repository that holds the file
    #[arg(long, value_name = "REV", allow_hyphen_values = true)]
    pub rev: Option<String>,
    /// For eyes, or for programs: one JSON object a pair, each on a line of its own
    #[arg(long, value_name = "FORM", default_value = "text")]
    pub report: Form,
    /// Write a picture of both, old on the left, as PNG; of several pairs each that differs has
    /// one, named FILE-STEM.png
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    Text,
    Json,
}

pub fn run(args: &CompareArgs) -> Exit {
    let found = match (&args.designs[..], &args.rev) {
        ([old, new], None) => pairs(old, new),
        ([new], Some(rev)) => with_past(new, rev),
        ([_], None) => Err((
            "there is nothing to compare it with".to_owned(),
            "name two designs: `jaconet compare OLD NEW`; or a revision: `jaconet compare FILE --rev HEAD`".to_owned(),
        )),
        _ => Err((
            "--rev stands in for the old design".to_owned(),
            "name the new one alone: `jaconet compare FILE --rev HEAD`".to_owned(),
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
    let told: Vec<(Told, bool)> = pairs.par_iter().map(|pair| one(&workshop, pair, many, args)).collect();
    for (told, _) in &told {
        told.say();
    }
    if many && args.report == Form::Text {
        let changed = told.iter().filter(|(_, changed)| *changed).count();
        say::out(&format!("{}: {changed} changed, {} unchanged\n", count(told.len(), "cover"), told.len() - changed));
    }
    told.iter().map(|(told, _)| told.exit).max().unwrap_or(Exit::Clean)
}

/// Also says whether they differ. Among many, those that do not are counted at the end.
fn one(workshop: &Workshop, pair: &Pair, many: bool, args: &CompareArgs) -> (Told, bool) {
    let (old, new) = match (&pair.old, &pair.new) {
        (Some(old), Some(new)) => (old, new),
        (lone, other) => {
            let shown = lone.as_ref().or(other.as_ref()).map_or("", |source| source.shown());
            return (alone(lone.is_some(), shown, args.report), true);
        }
    };
    let loaded = load(workshop, old).and_then(|old| Ok((old, load(workshop, new)?)));
    let (old, new) = match loaded {
        Ok(both) => both,
        Err(why) => return (Told::stopped(&why), true),
    };
    let same = compare(&old.outline, &new.outline).0.is_empty();
    let mut told = told(&old, &new, args.report);
    if many && same && args.report == Form::Text {
        return (Told { out: String::new(), ..told }, false);
    }
    if let Some(file) = &args.picture {
        let stem = pair.new.as_ref().map_or_else(String::new, Source::stem);
        let file = if many { &beside(file, &stem) } else { file };
        match draw(workshop, &old, &new, file) {
            Ok(line) if args.report == Form::Text => told.out += &line,
            Ok(_) => {}
            Err(Some(why)) => return (Told::stopped(&why), true),
            Err(None) => {
                let why = "no picture: a report has one only when its flat picture (STEM-flat.png) lies beside it";
                told.error = format!("jaconet: {why}\n");
            }
        }
    }
    (told, !same)
}

/// `a.png` becomes `a-salt.png`.
fn beside(file: &Path, stem: &str) -> PathBuf {
    let name = file.file_stem().unwrap_or_default().to_string_lossy();
    let ending = file.extension().map_or_else(String::new, |ending| format!(".{}", ending.to_string_lossy()));
    file.with_file_name(format!("{name}-{stem}{ending}"))
}

/// What changed from one to the other; an error of the new one is an error.
pub fn told(old: &Design, new: &Design, form: Form) -> Told {
    let changes = compare(&old.outline, &new.outline);
    let faults = new.outline.findings.iter().filter(|finding| finding.severity == Severity::Error).count();
    let out = match form {
        Form::Text => text(old, new, &changes, faults),
        Form::Json => json(Some(&old.shown), Some(&new.shown), Some(&changes)),
    };
    Told { out, error: String::new(), exit: if faults > 0 { Exit::Errors } else { Exit::Clean } }
}

fn text(old: &Design, new: &Design, changes: &Changes, faults: usize) -> String {
    let said = in_words(&format!("{} → {}", old.shown, new.shown), changes);
    if faults > 0 { format!("{said}  {}: {}\n", new.shown, count(faults, "error")) } else { said }
}

fn json(old: Option<&str>, new: Option<&str>, changes: Option<&Changes>) -> String {
    say::json(&serde_json::json!({ "old": old, "new": new, "changes": changes }))
}

/// A cover that only one side has.
fn alone(is_old: bool, shown: &str, form: Form) -> Told {
    let out = match form {
        Form::Text if is_old => format!("{shown}: only among the old ones\n"),
        Form::Text => format!("{shown}: only among the new ones\n"),
        Form::Json => json(is_old.then_some(shown), (!is_old).then_some(shown), None),
    };
    Told { out, error: String::new(), exit: Exit::Clean }
}

/// `Err(None)` when there is nothing to look at.
fn draw(workshop: &Workshop, old: &Design, new: &Design, file: &Path) -> Result<String, Option<String>> {
    // Light lies on the folds of a finished picture: one is compared with another.
    let finished = match (&old.sight, &new.sight) {
        (Sight::Flat(flat), Sight::Drawn(scene)) | (Sight::Drawn(scene), Sight::Flat(flat)) => {
            flat.like(scene, &workshop.darkroom).map_or(Sight::None, |flat| Sight::Flat(Box::new(flat)))
        }
        _ => Sight::None,
    };
    let (Some(one), Some(other)) = (old.sight.view_or(&finished), new.sight.view_or(&finished)) else {
        return Err(None);
    };
    let grown = grown(&old.outline, &new.outline);
    let shown = picture(&one, &other, &grown, &workshop.darkroom);
    write(file, &shown.png).map_err(|fault| Some(fault.to_string()))?;
    Ok(format!("{}: {} framed\n", file.display(), count(shown.places.len(), "place")))
}

impl Sight {
    /// Itself, or what a drawn one looks like finished.
    fn view_or<'a>(&'a self, finished: &'a Sight) -> Option<View<'a>> {
        match (self, finished) {
            (Sight::Drawn(_), Sight::Flat(flat)) | (Sight::Flat(flat), _) => Some(View::Flat(flat)),
            (Sight::Drawn(scene), _) => Some(View::Drawn(scene)),
            (Sight::None, _) => None,
        }
    }
}
