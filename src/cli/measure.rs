//! `jaconet measure`: every width, fold and sheet size, with the sum it came from.

use crate::cli::args::MeasureArgs;
use crate::cli::build::{findings, unread};
use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::present::summary;
use crate::cli::say;
use crate::compile::{Measure, Workshop, measure};
use crate::disk::Disk;
use crate::targets::Target;
use serde_json::{Value, json};

pub fn run(args: &MeasureArgs) -> Exit {
    let Some((roster, mut exit)) = called(&args.covers.wish(None)) else { return Exit::Stopped };
    let workshop = Workshop::default();
    let alone = roster.targets.len() == 1 && roster.told.is_empty();
    let mut measured: Vec<Value> = Vec::new();
    for target in &roster.targets {
        let (built, measures) = match measure(&workshop, &Disk::new(&target.folder), &target.commission) {
            Ok(both) => both,
            Err(fault) => {
                say::stopped(&unread(target, &fault), "");
                exit = exit.max(Exit::Stopped);
                continue;
            }
        };
        if args.json {
            measured.push(value(target, &measures, alone));
        } else {
            say::out(&text(target, &measures, alone));
        }
        // What is wrong with the rest of the cover is not asked here; but numbers out of a faulty file may be wrong too.
        if built.findings.has_errors() {
            say::error(&findings(target, &built));
            say::error(&summary(&target.name, &built));
        }
        exit = exit.max(Exit::from(&built.findings));
    }
    if args.json && !(alone && measured.is_empty()) {
        let all = if alone { measured.swap_remove(0) } else { Value::Array(measured) };
        let json = serde_json::to_string_pretty(&all).expect("names and finite numbers always become JSON");
        say::out(&say::json(&json));
    }
    exit
}

fn value(target: &Target, measures: &[Measure], alone: bool) -> Value {
    if alone { json!(measures) } else { json!({ "name": target.name, "measures": measures }) }
}

/// A line a measure; among others, under the cover's name.
fn text(target: &Target, measures: &[Measure], alone: bool) -> String {
    let width = measures.iter().map(|measure| measure.name.chars().count()).max().unwrap_or(0);
    let lines: String = measures.iter().map(|measure| measure.line(width) + "\n").collect();
    if alone { lines } else { format!("{}\n{lines}\n", target.name) }
}
