//! `jaconet shelf`: the covers of a series as they stand on a shelf, in one picture, and what differs among them.

use crate::check::{Appearance, Stray, appearance, strays};
use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::flags::{CoverArgs, ReportArgs};
use crate::cli::present::summary;
use crate::cli::progress::Progress;
use crate::cli::repeats::Repeats;
use crate::cli::reply::{findings, unread};
use crate::cli::say;
use crate::cli::shelf_picture::{Arranged, NoShelfPicture, ShelfPicture};
use crate::compile::{Workshop, build};
use crate::disk::{Disk, write};
use crate::ground::count;
use crate::output::TooLarge;
use crate::record::Built;
use crate::scene::PanelName;
use crate::targets::Target;
use clap::Args;
use std::collections::BTreeMap;
use std::path::PathBuf;

/// Nobody judges more at once, and every spine is kept in memory.
const MOST: usize = 200;
/// In a room every print is kept in memory, and more books would be too small to see.
const MOST_IN_ROOM: usize = 24;
/// Two covers that differ do not say which one strays.
const FEWEST: usize = 3;

#[derive(Args)]
#[command(
    after_long_help = "The spines stand in the order of the series (in-series NAME number=N), then as they were \
typed, at true scale: the picture says its resolution. The fronts under them are 160 pixels high, about as a shop on the \
web shows them in a list.\n\nWith --as row, pile or fan the finished books stand or lie in a room, as a `view` shows one. \
The picture is seen as by default, or with --view NAME as that view of the first cover: its camera, pixels, ground, shadow and \
mirror image. Up to 24 books.\n\nA line or size is common when more than half of the covers keep it. What stands more than \
0.2 mm off it, or is set more than 0.25 pt larger or smaller, is listed; so is what most covers have and one lacks. Strays \
are no errors: exit 0. A cover with errors is shown all the same, and its errors are listed: exit 1."
)]
pub struct ShelfArgs {
    #[command(flatten)]
    pub covers: CoverArgs,
    /// The picture
    #[arg(long, value_name = "FILE", default_value = "shelf.png")]
    pub out: PathBuf,
    /// How the books stand
    #[arg(long = "as", value_name = "HOW", default_value = "spines", value_enum, hide_possible_values = true)]
    pub arranged: Arranged,
    /// Take camera, ground and light from this view of the first cover
    #[arg(long, value_name = "NAME")]
    pub view: Option<String>,
    /// Pixels per inch of the spines
    #[arg(long, value_name = "N", default_value_t = 150, value_parser = clap::value_parser!(u16).range(20..=600))]
    pub ppi: u16,
    #[command(flatten)]
    pub report: ReportArgs,
}

/// A cover that stands on the shelf.
struct ShelvedCover {
    name: String,
    title: String,
    order: Option<f64>,
    /// Width and height in millimetres.
    spine: Option<[f64; 2]>,
    sound: bool,
    appearance: Appearance,
}

pub fn run(args: &ShelfArgs) -> Exit {
    let Some((list, before)) = called(&args.covers.selection(None)) else { return Exit::Stopped };
    let targets = once(list.targets, !args.covers.edition.is_empty());
    if let Err((why, help)) = fits(args, &targets) {
        say::stopped(&why, help);
        return Exit::Stopped;
    }
    let workshop = Workshop::default();
    let mut picture = ShelfPicture::new(args.arranged, targets.len(), f64::from(args.ppi), args.view.as_deref());
    let (books, exit) = match stand(&targets, &workshop, &mut picture) {
        Ok(stood) => stood,
        Err(fault) => return no_picture(args, &fault),
    };
    if books.is_empty() {
        say::stopped("there is no cover to show", "correct what is listed above, or name other covers");
        return Exit::Stopped;
    }
    let mut order: Vec<usize> = (0..books.len()).collect();
    // Stable: covers of one number, and those without, stay as they were typed.
    order.sort_by(|a, b| {
        let place = |at: &usize| books[*at].order.unwrap_or(f64::INFINITY);
        place(a).total_cmp(&place(b))
    });
    let bytes = match picture.picture(&order, &count(books.len(), "cover"), &workshop.darkroom) {
        Ok(bytes) => bytes,
        Err(fault) => return no_picture(args, &fault),
    };
    if let Err(fault) = write(&args.out, &bytes) {
        say::stopped(&fault.to_string(), "write it elsewhere with --out FILE");
        return Exit::Stopped;
    }
    let exit = exit.max(before);
    let books: Vec<&ShelvedCover> = order.iter().map(|at| &books[*at]).collect();
    let appearances: Vec<&Appearance> = books.iter().map(|book| &book.appearance).collect();
    let strays = strays(&appearances);
    if args.report.for_people() {
        say::out(&text(args, &books, &strays));
    }
    if args.report.for_programs() {
        return exit.max(args.report.hand_over(&json(args, &books, &strays)));
    }
    exit
}

/// A book stands on the shelf once, in the first of its editions, unless editions were asked for.
fn once(mut targets: Vec<Target>, asked: bool) -> Vec<Target> {
    let book = |target: &Target| {
        let stem = target.request.title.as_ref().map(|title| title.stem.clone());
        (target.shown.clone(), stem)
    };
    if !asked {
        targets.dedup_by_key(|target| book(target));
    }
    targets
}

fn fits(args: &ShelfArgs, targets: &[Target]) -> Result<(), (String, &'static str)> {
    let is_picture = args.out.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("png"));
    if !is_picture {
        let why = format!("{} is not a name for the picture", args.out.display());
        return Err((why, "the picture is a PNG: end its name in .png"));
    }
    let most = if args.arranged == Arranged::Spines { MOST } else { MOST_IN_ROOM };
    if targets.len() > most {
        let why = format!("{} covers are more than the {most} that one picture holds", targets.len());
        return Err((why, "show them in parts, each with its own --out FILE"));
    }
    if args.view.is_some() && args.arranged == Arranged::Spines {
        return Err(("--view has no meaning for spines".to_owned(), "add --as row, --as pile or --as fan"));
    }
    Ok(())
}

fn no_picture(args: &ShelfArgs, fault: &NoShelfPicture) -> Exit {
    match fault {
        NoShelfPicture::TooLarge(TooLarge { most }) => {
            let why = format!("the picture would have more than {} million pixels", most / 1_000_000);
            say::stopped(&why, "ask for fewer pixels with --ppi N, or show fewer covers at once");
        }
        NoShelfPicture::NoSuchView(names) => {
            let why = format!("the first cover has no view `{}`", args.view.as_deref().unwrap_or_default());
            let help = match names.as_slice() {
                [] => "leave out --view, or write a `view` into the cover or its series".to_owned(),
                names => format!("it has: {}", names.join(", ")),
            };
            say::stopped(&why, &help);
        }
    }
    Exit::Stopped
}

/// Builds cover after cover and keeps of each what stands on the shelf.
fn stand(
    targets: &[Target],
    workshop: &Workshop,
    picture: &mut ShelfPicture,
) -> Result<(Vec<ShelvedCover>, Exit), NoShelfPicture> {
    let names = names(targets);
    let progress = Progress::start(targets.len());
    let (mut books, mut exit, mut repeats) = (Vec::new(), Exit::Clean, Repeats::default());
    for (target, name) in targets.iter().zip(names) {
        match build(workshop, &Disk::new(&target.folder), &target.request) {
            Err(fault) => {
                say::stopped(&unread(target, &fault), "");
                exit = exit.max(Exit::Stopped);
            }
            Ok(built) => {
                if built.findings.has_errors() {
                    say::error(&repeats.fresh(&target.name, findings(target, &built)));
                    say::error(&summary(&target.shown, &built));
                    exit = exit.max(Exit::Errors);
                }
                if let (Some(book), Some(design)) = (book(name, &built), &built.design) {
                    if picture.add(&design.scene, &workshop.darkroom)? {
                        books.push(book);
                    } else {
                        say::error(&format!(
                            "{}: is not a printed book, so it is left out of the picture\n",
                            target.shown
                        ));
                    }
                }
            }
        }
        progress.step();
    }
    say::error(&repeats.summary());
    Ok((books, exit))
}

fn book(name: String, built: &Built) -> Option<ShelvedCover> {
    let design = built.design.as_ref()?;
    let scene = &design.scene;
    let whole = |mm: f64| (mm * 1000.0).round() / 1000.0;
    Some(ShelvedCover {
        name,
        title: scene.job.title.clone(),
        order: design.order.filter(|order| order.is_finite()),
        spine: scene.sheet.panel(PanelName::Spine).map(|spine| [spine.rect.width(), spine.rect.height()].map(whole)),
        sound: !built.findings.has_errors(),
        appearance: appearance(scene),
    })
}

/// What each cover is called: its stem, or its path where two share a stem.
fn names(targets: &[Target]) -> Vec<String> {
    let mut stems: BTreeMap<&str, usize> = BTreeMap::new();
    for target in targets {
        *stems.entry(&target.stem).or_default() += 1;
    }
    let alone = |target: &Target| stems.get(target.stem.as_str()) == Some(&1);
    targets.iter().map(|target| if alone(target) { target.stem.clone() } else { target.name.clone() }).collect()
}

fn text(args: &ShelfArgs, books: &[&ShelvedCover], strays: &[Stray]) -> String {
    let head = format!("{}  {}\n", args.out.display(), count(books.len(), "cover"));
    let flat = books.iter().filter(|book| book.spine.is_none());
    let flat = flat.map(|book| format!("{}: has no spine; its front stands alone\n", book.name));
    let name = |stray: &Stray| books.get(stray.cover).map_or("", |book| &book.name);
    let lines = strays.iter().map(|stray| format!("{}: {}\n", name(stray), stray.message));
    let sum = match (books.len(), strays.len()) {
        (covers, 0) if covers < FEWEST => "at least three covers are needed to find what differs\n".to_owned(),
        (_, 0) => "nothing differs\n".to_owned(),
        (_, number) => format!("{} from the common lines\n", count(number, "stray")),
    };
    std::iter::once(head).chain(flat).chain(lines).chain([sum]).collect()
}

fn json(args: &ShelfArgs, books: &[&ShelvedCover], strays: &[Stray]) -> String {
    let covers = books.iter().map(|book| {
        serde_json::json!({
            "cover": book.name, "title": book.title, "number": book.order, "spine": book.spine, "errors": !book.sound
        })
    });
    let strays = strays.iter().map(|stray| {
        let mut value = serde_json::to_value(stray).expect("words and finite numbers always become JSON");
        value["cover"] = books.get(stray.cover).map_or("", |book| &book.name).into();
        value
    });
    let covers: Vec<serde_json::Value> = covers.collect();
    let strays: Vec<serde_json::Value> = strays.collect();
    let all = serde_json::json!({
        "picture": args.out.display().to_string(), "ppi": args.ppi, "covers": covers, "strays": strays
    });
    say::json(&format_args!("{all:#}"))
}
