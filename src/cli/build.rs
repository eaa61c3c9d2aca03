//! `jaconet build`: many covers at once, reported in the order they were typed.
#![expect(clippy::disallowed_methods, reason = "it says how long a run took")]

use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::flags::{CoverArgs, ReportArgs, StrictArgs, TrialArgs, WorkArgs};
use crate::cli::manual::only;
use crate::cli::outcome::{CoverOutcome, Totals, outcome};
use crate::cli::repeats::Repeats;
use crate::cli::run::{caught, guarded, in_steps, resumed};
use crate::cli::store::{close, keep, open};
use crate::cli::{say, trial};
use crate::compile::{
    BuildOptions, BuildRun, Processors, Steps, TakenAway, Workshop, finish, leftovers, prepare, take_away,
};
use crate::disk::Seen;
use crate::output::OUTPUTS;
use crate::targets::Target;
use clap::{Args, ValueEnum};
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Instant;

#[derive(Args)]
pub struct BuildArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// Where to write [default: the folder `out` beside the cover file]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Write only these, separated by commas
    #[arg(long, value_name = "NAME", value_delimiter = ',', value_parser = only(OUTPUTS))]
    pub only: Vec<String>,
    /// What stands around the trim of the press PDF [default: what the cover says]
    #[arg(long, value_name = "WHAT")]
    pub surround: Option<SurroundArg>,
    #[command(flatten)]
    pub strict: StrictArgs,
    #[command(flatten)]
    pub trial: TrialArgs,
    #[command(flatten)]
    pub report: ReportArgs,
    #[command(flatten)]
    pub work: WorkArgs,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum SurroundArg {
    /// Bleed, then crop, fold and registration marks
    Marks,
    /// Bleed alone
    Bleed,
    /// Neither: the page is the trim
    Trim,
}

impl SurroundArg {
    /// As `deliver { press WORD }` has it.
    fn word(self) -> &'static str {
        match self {
            SurroundArg::Marks => "marks",
            SurroundArg::Bleed => "bleed",
            SurroundArg::Trim => "trim",
        }
    }
}

pub fn run(args: &BuildArgs) -> Exit {
    let begin = Instant::now();
    let Some((mut list, mut exit)) = called(&args.covers.selection(args.out.as_deref())) else { return Exit::Stopped };
    args.strict.ask(&mut list.targets);
    let options = BuildOptions { only: args.only.clone(), word: args.surround.map(SurroundArg::word) };
    let store = open(&args.work.store);
    let workshop = Workshop::new(keep(store.as_ref()));
    if !args.trial.facts.is_empty() {
        exit = exit.max(trial::run(&workshop, &list.targets, &args.trial, &args.report, args.work.jobs));
        if args.report.for_people() && exit < Exit::Stopped {
            say::out("nothing is written: facts were tried only\n");
        }
        close(store.as_ref());
        return exit;
    }
    let run = BuildRun { workshop: &workshop, store: store.as_deref(), options: &options, places: Arc::default() };
    let leftovers = if list.is_partial { Vec::new() } else { leftovers(&list.known) };
    // What the covers of this run read is only asked for where something is to be taken away.
    let read: Mutex<BTreeSet<PathBuf>> = Mutex::default();
    let note = |seen: &Seen| {
        if !leftovers.is_empty() {
            read.lock().unwrap_or_else(PoisonError::into_inner).extend(seen.real());
        }
    };
    let alone = list.targets.len() == 1 && args.covers.title.is_empty() && list.catalogues.is_empty();
    let mut repeats = Repeats::default();
    let mut all: Vec<CoverOutcome> = Vec::with_capacity(list.targets.len());
    let steps = Steps {
        prepare: |target: &Target| caught(|| prepare(&run, target)),
        write: |target: &Target, prepared, processors: Processors<'_>| {
            guarded(target, || {
                let (result, seen) = finish(&run, target, resumed(prepared), processors);
                note(&seen);
                outcome(target, &result, alone)
            })
        },
    };
    in_steps(args.work.jobs, &list.targets, &steps, |(reply, outcome)| {
        exit = exit.max(reply.exit);
        if args.report.for_people() {
            reply.say_once(&outcome.name, &mut repeats);
        }
        all.push(outcome);
    });
    let read = read.into_inner().unwrap_or_else(PoisonError::into_inner);
    let taken = take_away(&leftovers, &read).unwrap_or_else(|fault| {
        say::stopped(&fault.to_string(), "no cover makes this file any more; take it away by hand");
        exit = Exit::Stopped;
        Vec::new()
    });
    if args.report.for_people() {
        say::error(&repeats.summary());
        say::out(&taken.iter().map(line).collect::<String>());
    }
    let seconds = begin.elapsed().as_secs_f64();
    let totals = Totals { all: &all, taken: &taken, catalogues: &list.catalogues, work: workshop.work(), seconds };
    if args.report.for_people() && !alone {
        say::out(&totals.text());
    }
    if args.report.for_programs() {
        exit = exit.max(args.report.hand_over(&totals.json()));
    }
    close(store.as_ref());
    exit
}

fn line(taken: &TakenAway) -> String {
    let what = if taken.is_left {
        "no cover makes it any more; it was changed, or a cover reads it, so it is left"
    } else {
        "taken away: no cover makes it any more"
    };
    format!("{}: {what}\n", taken.path.display())
}
