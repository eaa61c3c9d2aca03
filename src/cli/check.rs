//! `jaconet check`: says what is wrong, and writes nothing.

use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::flags::{CoverArgs, FindingsFormat, ReportArgs, ReportFormat, TrialArgs, WorkArgs};
use crate::cli::present::{json, summary};
use crate::cli::reply::{Reply, findings, unread};
use crate::cli::run::{each, guarded};
use crate::cli::store::{close, keep, open};
use crate::cli::{sarif, say, trial};
use crate::compile::{Workshop, build};
use crate::disk::Disk;
use crate::targets::Target;
use clap::Args;
use serde_json::{Value, json};

#[derive(Args)]
pub struct CheckArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    #[command(flatten)]
    pub trial: TrialArgs,
    #[command(flatten)]
    pub report: ReportArgs<FindingsFormat>,
    #[command(flatten)]
    pub work: WorkArgs,
}

pub fn run(args: &CheckArgs) -> Exit {
    let Some((list, mut exit)) = called(&args.covers.selection(None)) else { return Exit::Stopped };
    let store = open(&args.work.store);
    let workshop = Workshop::new(keep(store.as_ref()));
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
    let format = args.report.report;
    let (mut covers, mut results): (Vec<Value>, Vec<Value>) = Default::default();
    if format == FindingsFormat::Sarif {
        results.extend(list.catalogues.iter().flat_map(|(shown, built)| sarif::results(shown, built)));
    }
    each(
        args.work.jobs,
        &list.targets,
        |target| guarded(target, || look(&workshop, target, format)),
        |(reply, found)| {
            if args.report.for_people() {
                reply.say();
            } else if reply.exit == Exit::Stopped {
                say::error(&reply.error);
            }
            exit = exit.max(reply.exit);
            match found {
                Some(Found::Cover(value)) => covers.push(value),
                Some(Found::Results(more)) => results.extend(more),
                None => {}
            }
        },
    );
    close(store.as_ref());
    match format {
        FindingsFormat::Text => {}
        FindingsFormat::Json => {
            let catalogues = list.catalogues.iter().map(|(shown, built)| json(shown, built)).collect::<Vec<_>>();
            let report = json!({ "covers": covers, "catalogues": catalogues });
            exit = exit.max(args.report.hand_over(&say::json(&format_args!("{report:#}"))));
        }
        FindingsFormat::Sarif => exit = exit.max(args.report.hand_over(&sarif::log(&results))),
    }
    exit
}

/// What programs receive of one cover.
enum Found {
    Cover(Value),
    /// Of SARIF.
    Results(Vec<Value>),
}

fn look(workshop: &Workshop, target: &Target, format: FindingsFormat) -> (Reply, Option<Found>) {
    let built = match build(workshop, &Disk::new(&target.folder), &target.request) {
        Ok(built) => built,
        Err(fault) => return (Reply::stopped(&unread(target, &fault)), None),
    };
    let exit = Exit::from(&built.findings);
    let reply = Reply { out: summary(&target.name, &built), error: findings(target, &built), exit };
    let found = match format {
        FindingsFormat::Text => None,
        FindingsFormat::Json => {
            let mut value = json(&target.shown, &built);
            value["name"] = Value::from(target.name.as_str());
            Some(Found::Cover(value))
        }
        FindingsFormat::Sarif => Some(Found::Results(sarif::results(&target.shown, &built))),
    };
    (reply, found)
}
