//! `jaconet check`: says what is wrong, and writes nothing.

use crate::build::{Disk, Workshop, build};
use crate::cli::args::{CheckArgs, Form};
use crate::cli::build::{Told, each, findings, guarded, unread};
use crate::cli::exit::Exit;
use crate::cli::present::{json, summary};
use crate::cli::target::{Target, targets};

pub fn run(args: &CheckArgs) -> Exit {
    let Some(targets) = targets(&args.files, None) else { return Exit::Stopped };
    let workshop = Workshop::default();
    let look = |target: &Target| match build(&workshop, &Disk::new(&target.folder), &target.file) {
        Err(fault) => Told::stopped(&unread(target, &fault)),
        Ok(built) => {
            let exit = Exit::from(&built.findings);
            match args.report {
                Form::Text => Told { out: summary(&target.shown, &built), error: findings(target, &built), exit },
                // One cover a line, so that covers can be told as they come.
                Form::Json => Told { out: format!("{}\n", json(&target.shown, &built)), error: String::new(), exit },
            }
        }
    };
    each(args.jobs, &targets, |target| guarded(target, || look(target)))
}
