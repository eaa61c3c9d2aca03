//! `jaconet check`: says what is wrong, and writes nothing.

use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::flags::{CoverArgs, FindingsFormat, ReportArgs, ReportFormat, StrictArgs, TrialArgs, WorkArgs};
use crate::cli::present::{json, summary};
use crate::cli::repeats::{Repeats, gather};
use crate::cli::reply::{Reply, findings, unread};
use crate::cli::run::{each, guarded};
use crate::cli::store::{close, keep, open};
use crate::cli::timings::Timings;
use crate::cli::{sarif, say, trial};
use crate::compile::{Workshop, build};
use crate::disk::{Disk, PlacesNow};
use crate::targets::Target;
use clap::Args;
use serde_json::{Value, json};
use std::sync::Arc;

#[derive(Args)]
pub struct CheckArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    #[command(flatten)]
    pub strict: StrictArgs,
    #[command(flatten)]
    pub trial: TrialArgs,
    #[command(flatten)]
    pub report: ReportArgs<FindingsFormat>,
    #[command(flatten)]
    pub work: WorkArgs,
    /// Say how long each stage and each rule took; covers and rules are taken one after the other
    #[arg(long)]
    pub timings: bool,
}

pub fn run(args: &CheckArgs) -> Exit {
    let Some((mut list, mut exit)) = called(&args.covers.selection(None)) else { return Exit::Stopped };
    args.strict.ask(&mut list.targets);
    let store = open(&args.work.store);
    let timings = args.timings.then(Timings::default);
    let workshop = Workshop::new(keep(store.as_ref()));
    let workshop = match &timings {
        Some(timings) => workshop.timed(timings.laps()),
        None => workshop,
    };
    if !args.trial.facts.is_empty() {
        let report = match args.report.report {
            FindingsFormat::Text => ReportFormat::Text,
            FindingsFormat::Json => ReportFormat::Json,
            FindingsFormat::Sarif => {
                say::stopped("SARIF holds findings, not what a fact would change", "write --report json");
                return Exit::Stopped;
            }
        };
        let report = ReportArgs { report, report_file: args.report.report_file.clone() };
        exit = exit.max(trial::run(&workshop, &list.targets, &args.trial, &report, args.work.jobs));
        close(store.as_ref());
        return exit;
    }
    let (mut covers, mut repeats, mut targets) = (Vec::new(), Repeats::default(), list.targets.iter());
    let with_value = args.report.for_programs();
    let places = Arc::<PlacesNow>::default();
    each(
        if args.timings { Some(1) } else { args.work.jobs },
        &list.targets,
        |target| guarded(target, || look(&workshop, target, &places, with_value)),
        |(reply, value)| {
            let name = targets.next().map_or("", |target| &target.name);
            exit = exit.max(reply.exit);
            if args.report.for_people() {
                reply.say_once(name, &mut repeats);
            } else if reply.exit == Exit::Stopped {
                say::error(&reply.error);
            }
            covers.extend(value);
        },
    );
    close(store.as_ref());
    if args.report.for_people() {
        say::error(&repeats.summary());
    }
    if let Some(timings) = &timings {
        say::error(&timings.text());
    }
    let catalogues: Vec<Value> = list.catalogues.iter().map(|(shown, built)| json(shown, built)).collect();
    let templates = gather(&mut covers);
    match args.report.report {
        FindingsFormat::Text => {}
        FindingsFormat::Json => {
            let report = json!({ "covers": covers, "catalogues": catalogues, "templates": templates });
            exit = exit.max(args.report.hand_over(&say::json(&format_args!("{report:#}"))));
        }
        FindingsFormat::Sarif => {
            exit = exit.max(args.report.hand_over(&sarif::log(&[catalogues, covers].concat(), &templates)));
        }
    }
    exit
}

fn look(workshop: &Workshop, target: &Target, places: &Arc<PlacesNow>, with_value: bool) -> (Reply, Option<Value>) {
    let built = match build(workshop, &Disk::among(&target.folder, places.clone()), &target.request) {
        Ok(built) => built,
        Err(fault) => return (Reply::stopped(&unread(target, &fault)), None),
    };
    let exit = Exit::from(&built.findings);
    let reply = Reply { out: summary(&target.name, &built), found: findings(target, &built), ..Reply::silent(exit) };
    let value = with_value.then(|| {
        let mut value = json(&target.shown, &built);
        value["name"] = Value::from(target.name.as_str());
        value
    });
    (reply, value)
}
