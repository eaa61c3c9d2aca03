//! `jaconet check`: says what is wrong, and writes nothing.

use crate::build::{Disk, Workshop, build};
use crate::cli::args::{CheckArgs, Form};
use crate::cli::build::{Told, each, findings, guarded, say_all, unread};
use crate::cli::exit::Exit;
use crate::cli::present::{json, summary};
use crate::cli::store::{close, keep};
use crate::cli::target::{Target, targets};
use crate::cli::{compare, sarif, say, tries};
use serde_json::Value;

pub fn run(args: &CheckArgs) -> Exit {
    let Some(targets) = targets(&args.files, None) else { return Exit::Stopped };
    let store = args.store.open();
    let workshop = Workshop::new(keep(store.as_ref()));
    if !args.tries.is_empty() {
        let form = match args.report {
            Form::Text => compare::Form::Text,
            Form::Json => compare::Form::Json,
            Form::Sarif => {
                say::stopped("SARIF tells findings, not what a fact would change", "write --report json");
                return Exit::Stopped;
            }
        };
        let exit = tries::run(&workshop, &targets, &args.tries, form, args.jobs);
        close(store.as_ref());
        return exit;
    }
    let look = |target: &Target, results: &mut Vec<Value>| match build(
        &workshop,
        &Disk::new(&target.folder),
        &target.commission,
    ) {
        Err(fault) => Told::stopped(&unread(target, &fault)),
        Ok(built) => {
            let exit = Exit::from(&built.findings);
            match args.report {
                Form::Text => Told { out: summary(&target.shown, &built), error: findings(target, &built), exit },
                // One cover a line, so that covers can be told as they come.
                Form::Json => Told { out: format!("{}\n", json(&target.shown, &built)), error: String::new(), exit },
                Form::Sarif => {
                    *results = sarif::results(&target.shown, &built);
                    Told { out: String::new(), error: String::new(), exit }
                }
            }
        }
    };
    let looked = each(args.jobs, &targets, |target| {
        let mut results = Vec::new();
        let told = guarded(target, || look(target, &mut results));
        (told, results)
    });
    let (told, results): (Vec<Told>, Vec<Vec<Value>>) = looked.into_iter().unzip();
    let exit = say_all(&told);
    close(store.as_ref());
    if args.report == Form::Sarif {
        say::out(&sarif::log(&results.concat()));
    }
    exit
}
