//! `jaconet drift`: the worst that cutting, folding and printing may do, as small pictures and as findings.

use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::flags::{CoverArgs, ReportArgs};
use crate::cli::present::{json, summary};
use crate::cli::reply::{Reply, findings, unread};
use crate::cli::run::{each, guarded};
use crate::cli::say;
use crate::compile::{Workshop, rehearsed};
use crate::disk::{Disk, write_pieces};
use crate::ground::{Point, number};
use crate::output::drifted;
use crate::record::{Built, Design};
use crate::targets::Target;
use clap::Args;
use serde_json::{Value, json as object};
use std::fmt::Write as _;
use std::path::PathBuf;

#[derive(Args)]
pub struct DriftArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// Where to write the pictures [default: the folder `out` beside the cover file]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Pixels per inch of the pictures
    #[arg(long, default_value_t = 60, value_parser = clap::value_parser!(u16).range(20..=300))]
    pub ppi: u16,
    #[command(flatten)]
    pub report: ReportArgs,
    /// How many processors to use [default: all]
    #[arg(long, value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub jobs: Option<u16>,
}

pub fn run(args: &DriftArgs) -> Exit {
    let Some((list, mut exit)) = called(&args.covers.selection(args.out.as_deref())) else { return Exit::Stopped };
    let workshop = Workshop::default();
    let mut values: Vec<Value> = Vec::new();
    each(
        args.jobs,
        &list.targets,
        |target| guarded(target, || rehearse(&workshop, target, f64::from(args.ppi))),
        |(reply, value)| {
            exit = exit.max(reply.exit);
            if args.report.for_people() {
                reply.say();
            } else if reply.exit == Exit::Stopped {
                say::error(&reply.error);
            }
            values.extend(value);
        },
    );
    if args.report.for_programs() {
        let report = object!({ "covers": values });
        exit = exit.max(args.report.hand_over(&say::json(&format_args!("{report:#}"))));
    }
    exit
}

fn rehearse(workshop: &Workshop, target: &Target, ppi: f64) -> (Reply, Option<Value>) {
    let built = match rehearsed(workshop, &Disk::new(&target.folder), &target.request) {
        Ok(built) => built,
        Err(fault) => return (Reply::stopped(&unread(target, &fault)), None),
    };
    let mut written = Vec::new();
    let mut out = String::new();
    if let Some(design) = built.design.as_ref().filter(|design| design.scene.sheet.pixels.is_none()) {
        for file in drifted(&design.scene, design.drift, ppi, detail(&built, design), &workshop.darkroom) {
            let path = target.out.join(format!("{}-{}", target.stem, file.name));
            if let Err(fault) = write_pieces(&path, &file.bytes) {
                return (Reply::stopped(&fault.to_string()), None);
            }
            writeln!(out, "{}", path.display()).expect("a string takes every line");
            written.push(path.to_string_lossy().into_owned());
        }
        let drift = design.drift;
        let [cut, fold, register] = [drift.cut, drift.fold, drift.register].map(number);
        writeln!(out, "cut ±{cut} mm, folded ±{fold} mm, register ±{register} mm").expect("a string takes every line");
    }
    out += &summary(&target.name, &built);
    let exit = Exit::from(&built.findings);
    let mut value = json(&target.shown, &built);
    value["name"] = target.name.as_str().into();
    value["pictures"] = written.into();
    (Reply { out, found: findings(target, &built), ..Reply::silent(exit) }, Some(value))
}

/// Where register is shown: where plates apart would be seen, or else the middle of the front.
fn detail(built: &Built, design: &Design) -> Point {
    let measured = |name: &str| {
        built.findings.iter().find_map(|finding| {
            let is_about = finding.subject.measured.as_ref().is_some_and(|measured| measured.name == name);
            finding.place.filter(|_| is_about)
        })
    };
    let front = || design.scene.sheet.front().unwrap_or(design.scene.sheet.trim).center();
    // The corner of what is left open, so that two of its edges show.
    measured("register").map_or_else(front, |place| Point::new(place.x0, place.y0))
}
