//! `jaconet faces`: the fonts that a cover may use, and a specimen of them.

use crate::assets::{Library, MapShelf, NamedBytes, Shelf, font_files, nearest};
use crate::cli::exit::Exit;
use crate::cli::flags::ReportArgs;
use crate::cli::kin::Kin;
use crate::cli::say;
use crate::cli::specimen::specimen;
use crate::disk::{Disk, write};
use clap::Args;
use serde_json::{Value, json};
use std::path::PathBuf;

#[derive(Args)]
#[command(
    after_long_help = "Languages are those whose letters all faces of a family have. Features and axes are named by their \
OpenType tags, as `features` and `axis` take them: `jaconet explain type`. A specimen of one family shows its letters, its weights \
and what its features change."
)]
pub struct FacesArgs {
    /// A folder with a cover or a series: the fonts in its folder `fonts` are listed, too
    #[arg(default_value = ".", hide_default_value = true)]
    pub folder: PathBuf,
    /// Only these families
    #[arg(long, value_name = "NAME", num_args = 1..)]
    pub family: Vec<String>,
    /// Draw a specimen into this PNG file
    #[arg(long, value_name = "FILE")]
    pub specimen: Option<PathBuf>,
    /// Pixels per inch of the specimen
    #[arg(long, value_name = "N", default_value_t = 150, value_parser = clap::value_parser!(u16).range(50..=600))]
    pub ppi: u16,
    #[command(flatten)]
    pub report: ReportArgs,
}

pub fn run(args: &FacesArgs) -> Exit {
    let (shelf, fonts) = beside(args);
    let (library, faults) = Library::open(&fonts);
    let mut exit = Exit::Clean;
    for (path, fault) in &faults {
        say::stopped(
            &format!("the font `{path}` is left out: it {}", fault.0),
            "replace it, or take it out of the folder",
        );
        exit = Exit::Errors;
    }
    let families = match wanted(args, &library) {
        Ok(families) => families,
        Err((why, help)) => {
            say::stopped(&why, &help);
            return Exit::Stopped;
        }
    };
    let kin: Vec<Kin> = families.iter().map(|family| Kin { family, faces: library.faces(family) }).collect();
    if let Some(path) = &args.specimen {
        let picture = match specimen(shelf, &kin, f64::from(args.ppi)) {
            Ok(picture) => picture,
            Err((why, help)) => {
                say::stopped(&why, &help);
                return Exit::Stopped;
            }
        };
        if let Err(fault) = write(path, &picture) {
            say::stopped(&fault.to_string(), "write it elsewhere with --specimen FILE");
            return Exit::Stopped;
        }
    }
    if args.report.for_people() {
        say::out(&kin.iter().map(Kin::text).collect::<Vec<String>>().join("\n"));
    }
    if args.report.for_programs() {
        let report = json!({ "families": kin.iter().map(Kin::json).collect::<Vec<Value>>() });
        exit = exit.max(args.report.hand_over(&say::json(&format_args!("{report:#}"))));
    }
    exit
}

/// The font files of a folder, as a shelf and by name.
fn beside(args: &FacesArgs) -> (MapShelf, Vec<NamedBytes>) {
    let disk = Disk::new(&args.folder);
    let (fonts, left_out) = font_files(&disk, disk.list("fonts").into_iter());
    for (path, why) in left_out {
        say::stopped(&format!("the font `{path}` is left out: {why}"), "");
    }
    let shelf = fonts.iter().fold(MapShelf::default(), |shelf, (path, bytes)| shelf.with(path, bytes.clone()));
    (shelf, fonts)
}

fn wanted(args: &FacesArgs, library: &Library) -> Result<Vec<String>, (String, String)> {
    let known = library.families();
    if args.family.is_empty() {
        return Ok(known.into_iter().map(str::to_owned).collect());
    }
    let found = args.family.iter().map(|wanted| {
        let same = known.iter().find(|family| family.to_lowercase() == wanted.trim().to_lowercase());
        same.map(|family| (*family).to_owned()).ok_or_else(|| {
            let help = match nearest(wanted, known.iter().copied()) {
                Some(near) => format!("did you mean {near:?}?"),
                None => format!("families are {}", known.join(", ")),
            };
            (format!("there is no font {wanted:?}"), help)
        })
    });
    found.collect()
}
