//! `jaconet measure`: every width, fold and sheet size, with the sum it came from.

use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::flags::{CoverArgs, ReportArgs};
use crate::cli::present::summary;
use crate::cli::repeats::Repeats;
use crate::cli::reply::{findings, unread};
use crate::cli::say;
use crate::compile::{Workshop, measure};
use crate::disk::Disk;
use clap::Args;
use serde_json::{Value, json};

#[derive(Args)]
pub struct MeasureArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    #[command(flatten)]
    pub report: ReportArgs,
    #[arg(long, hide = true)]
    json: bool,
}

pub fn run(args: &MeasureArgs) -> Exit {
    if args.json {
        say::stopped("`--json` is called `--report json` now, as in all commands", "write --report json");
        return Exit::Stopped;
    }
    let Some((list, mut exit)) = called(&args.covers.selection(None)) else { return Exit::Stopped };
    let workshop = Workshop::default();
    let alone = list.targets.len() == 1 && list.catalogues.is_empty();
    let (mut covers, mut repeats) = (Vec::<Value>::new(), Repeats::default());
    for target in &list.targets {
        let (built, measures) = match measure(&workshop, &Disk::new(&target.folder), &target.request) {
            Ok(both) => both,
            Err(fault) => {
                say::stopped(&unread(target, &fault), "");
                exit = exit.max(Exit::Stopped);
                continue;
            }
        };
        covers.push(json!({ "cover": target.shown, "name": target.name, "measures": measures }));
        if args.report.for_people() {
            let width = measures.iter().map(|measure| measure.name.chars().count()).max().unwrap_or(0);
            let lines: String = measures.iter().map(|measure| measure.line(width) + "\n").collect();
            // Among others they stand under the cover's name.
            say::out(&if alone { lines } else { format!("{}\n{lines}\n", target.name) });
        }
        // What is wrong with the rest of the cover is not asked here; but numbers out of a faulty file may be wrong too.
        if built.findings.has_errors() {
            say::error(&repeats.fresh(&target.name, findings(target, &built)));
            say::error(&summary(&target.name, &built));
        }
        exit = exit.max(Exit::from(&built.findings));
    }
    say::error(&repeats.summary());
    if args.report.for_programs() {
        let report = json!({ "covers": covers });
        exit = exit.max(args.report.hand_over(&say::json(&format_args!("{report:#}"))));
    }
    exit
}
