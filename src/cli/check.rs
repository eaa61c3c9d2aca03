//! `jaconet check`: says what is wrong, and writes nothing.

use crate::cli::args::{CheckArgs, Form};
use crate::cli::build::{Faulted, Told, each, findings, guarded, unread};
use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::present::{json, summary};
use crate::cli::store::{close, keep};
use crate::cli::{compare, sarif, say, tries};
use crate::compile::{Workshop, build};
use crate::disk::Disk;
use crate::targets::Target;
use serde_json::Value;

/// Results for a log of all covers.
type Results = Vec<Value>;

impl Faulted for Results {
    fn faulted(_: &Target, _: String) -> Results {
        Vec::new()
    }
}

pub fn run(args: &CheckArgs) -> Exit {
    let Some((roster, mut exit)) = called(&args.covers.wish(None)) else { return Exit::Stopped };
    let store = args.work.store.open();
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
        exit = exit.max(tries::run(&workshop, &roster.targets, &args.tries, form, args.work.jobs));
        close(store.as_ref());
        return exit;
    }
    let mut results: Results = Vec::new();
    for (shown, told) in &roster.told {
        match args.report {
            Form::Text => {}
            Form::Json if told.findings.is_empty() => {}
            Form::Json => say::out(&say::json(&json(shown, told))),
            Form::Sarif => results.extend(sarif::results(shown, told)),
        }
    }
    each(
        args.work.jobs,
        &roster.targets,
        |target| guarded(target, || look(&workshop, target, args.report)),
        |(told, more)| {
            told.say();
            exit = exit.max(told.exit);
            results.extend(more);
        },
    );
    close(store.as_ref());
    if args.report == Form::Sarif {
        say::out(&sarif::log(&results));
    }
    exit
}

fn look(workshop: &Workshop, target: &Target, form: Form) -> (Told, Results) {
    let built = match build(workshop, &Disk::new(&target.folder), &target.commission) {
        Ok(built) => built,
        Err(fault) => return (Told::stopped(&unread(target, &fault)), Vec::new()),
    };
    let exit = Exit::from(&built.findings);
    match form {
        Form::Text => (Told { out: summary(&target.name, &built), error: findings(target, &built), exit }, Vec::new()),
        // One cover a line, so that covers can be told as they come.
        Form::Json => {
            let mut value = json(&target.shown, &built);
            value["name"] = Value::from(target.name.as_str());
            (Told { out: say::json(&value), error: String::new(), exit }, Vec::new())
        }
        Form::Sarif => (Told { out: String::new(), error: String::new(), exit }, sarif::results(&target.shown, &built)),
    }
}
