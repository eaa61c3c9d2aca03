//! `jaconet measure`: every width, fold and sheet size, with the sum it came from.

use crate::build::{Disk, Workshop, build};
use crate::cli::args::MeasureArgs;
use crate::cli::build::{findings, unread};
use crate::cli::covers::targets;
use crate::cli::exit::Exit;
use crate::cli::present::summary;
use crate::cli::say;

pub fn run(args: &MeasureArgs) -> Exit {
    let Some(targets) = targets(std::slice::from_ref(&args.file), None) else { return Exit::Stopped };
    let Some(target) = targets.first() else { return Exit::Stopped };
    let built = match build(&Workshop::default(), &Disk::new(&target.folder), &target.commission) {
        Ok(built) => built,
        Err(fault) => {
            say::stopped(&unread(target, &fault), "");
            return Exit::Stopped;
        }
    };
    let measures = built.design.as_ref().map_or(&[][..], |design| &design.measures);
    if args.json {
        let json = serde_json::to_string_pretty(measures).expect("names and finite numbers always become JSON");
        say::out(&format!("{json}\n"));
    } else {
        let width = measures.iter().map(|measure| measure.name.chars().count()).max().unwrap_or(0);
        let lines: String = measures.iter().map(|measure| measure.line(width) + "\n").collect();
        say::out(&say::visible(&lines));
    }
    // What is wrong with the rest of the cover is not asked here; but numbers out of a faulty file may be wrong too.
    if built.findings.has_errors() {
        say::error(&findings(target, &built));
        say::error(&summary(&target.shown, &built));
    }
    Exit::from(&built.findings)
}
