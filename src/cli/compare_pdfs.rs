//! PDFs of printers: one that came back against the press PDF that was sent, and a keyline against our sheet.

use crate::check::keyline_differences;
use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::flags::ReportArgs;
use crate::cli::reply::unread;
use crate::cli::say::{self, stopped, visible};
use crate::compile::{Workshop, build};
use crate::disk::Disk;
use crate::ground::{Severity, count};
use crate::printed::{PdfDifference, PrintedPage, differences, known_page, read_pdf};
use crate::returned::{PlatesCompared, compare_plates};
use crate::targets::Selection;
use serde_json::json;
use std::path::Path;
use std::sync::Arc;

/// What is compared of two files in any case, and what where their plates are not drawn.
const SEEN: &str = "this compares boxes, colours and the areas painted in them, fonts, overprint, pictures by size, kind and mean \
                    ink, and the output condition of the first page";
const UNSEEN: &str = "not what lies over what, what is cut out, gradients, transparency and the shapes of letters";
const DRAWN: &str = "and its plates, drawn within the bleed at a quarter of a millimetre a pixel: what differs by more than 3 % \
                     of an ink and by more than an edge";

pub fn is_pdf(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"))
}

/// A cover against the drawing of trim and folds that its printer sent.
pub fn compare_keyline(cover: &Path, keyline: &Path, report: &ReportArgs) -> Exit {
    let page = match read_keyline(keyline) {
        Ok(page) => page,
        Err(why) => {
            stopped(&why, "name a cover, then the PDF that the printer sent to design on");
            return Exit::Stopped;
        }
    };
    let selection = Selection { files: vec![cover.to_owned()], ..Selection::default() };
    let Some((list, mut exit)) = called(&selection) else { return Exit::Stopped };
    let (workshop, mut values) = (Workshop::default(), Vec::new());
    for target in &list.targets {
        let built = match build(&workshop, &Disk::new(&target.folder), &target.request) {
            Ok(built) => built,
            Err(fault) => {
                stopped(&unread(target, &fault), "");
                return Exit::Stopped;
            }
        };
        // A front for screens is cut and folded by nobody.
        let Some(design) = built.design.as_ref().filter(|design| design.scene.sheet.pixels.is_none()) else { continue };
        let all = keyline_differences(&design.scene.sheet, &page);
        if report.for_people() {
            people(&all);
            say::out(&format!("{} on {}: {}\n", visible(&target.name), keyline.display(), sum(&all, "it fits")));
        }
        exit = exit.max(worst(&all));
        values.push(json!({ "cover": target.shown, "name": target.name, "differences": all }));
    }
    if report.for_programs() {
        let value = json!({ "keyline": keyline.to_string_lossy(), "covers": values });
        exit = exit.max(report.hand_over(&say::json(&format_args!("{value:#}"))));
    }
    exit
}

pub fn compare_pdfs(ours: &Path, returned: &Path, report: &ReportArgs) -> Exit {
    let (sent_file, back_file) = match (bytes(ours), bytes(returned)) {
        (Ok(sent), Ok(back)) => (sent, back),
        (Err(why), _) | (_, Err(why)) => {
            stopped(&why, "name the press PDF that was sent, then the one that came back");
            return Exit::Stopped;
        }
    };
    let (sent, back) = match (read(ours, &sent_file), read(returned, &back_file)) {
        (Ok(sent), Ok(back)) => (sent, back),
        (Err(why), _) | (_, Err(why)) => {
            stopped(&why, "name the press PDF that was sent, then the one that came back");
            return Exit::Stopped;
        }
    };
    let mut all = differences(&sent, &back);
    let PlatesCompared { differences: of_plates, undrawn } = compare_plates((&sent_file, &sent), (&back_file, &back));
    if undrawn.is_empty() {
        // Colours and pictures may be written in other ways and print the same; where plates differ they tell why.
        let same = of_plates.is_empty();
        all.retain(|one| match one.about {
            "inks" => !same || one.severity == Severity::Note,
            "pictures" => !same && one.severity == Severity::Error || one.severity == Severity::Note,
            _ => true,
        });
    }
    all.extend(of_plates);
    if report.for_people() {
        people(&all);
        let sum = sum(&all, "nothing was lost or changed");
        let plates = if undrawn.is_empty() {
            DRAWN.to_owned()
        } else {
            format!("{UNSEEN}; its plates were not drawn, for these cannot be: {}", undrawn.join("; "))
        };
        say::out(&format!("{}: {sum}\n{SEEN}, {plates}\n", returned.display()));
    }
    let mut exit = worst(&all);
    if report.for_programs() {
        let shown = [ours, returned].map(|path| path.to_string_lossy().into_owned());
        let whole = ["order", "cut-outs", "gradients", "transparency", "letters"];
        let not_compared: &[&str] = if undrawn.is_empty() { &[] } else { &whole };
        let report_object = json!({ "ours": shown[0], "returned": shown[1], "differences": all, "not-compared": not_compared, "not-drawn": undrawn });
        exit = exit.max(report.hand_over(&say::json(&format_args!("{report_object:#}"))));
    }
    exit
}

fn people(all: &[PdfDifference]) {
    let lines = all.iter().map(|one| format!("{}: {} ({})\n", one.severity.word(), one.message, one.about));
    say::out(&lines.collect::<String>());
}

fn sum(all: &[PdfDifference], none: &str) -> String {
    if all.is_empty() { none.to_owned() } else { count(all.len(), "difference") }
}

fn worst(all: &[PdfDifference]) -> Exit {
    if all.iter().any(|one| one.severity == Severity::Error) { Exit::Errors } else { Exit::Clean }
}

/// A page by itself: which of several shows the outside of the cover, only its cover file can say.
fn read_keyline(path: &Path) -> Result<Arc<PrintedPage>, String> {
    let page = known_page(&bytes(path)?, 1).map_err(|why| format!("{}: {why}", path.display()))?;
    if page.pages > 1 {
        return Err(format!(
            "{}: it has {} pages; the cover says which one, `keyline … page=1`",
            path.display(),
            page.pages
        ));
    }
    Ok(page)
}

fn read(path: &Path, bytes: &[u8]) -> Result<PrintedPage, String> {
    read_pdf(bytes).map_err(|why| format!("{}: {why}", path.display()))
}

#[expect(clippy::disallowed_methods, reason = "these files are named by hand and are no part of a cover")]
fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    std::fs::read(path).map_err(|why| format!("{}: {why}", path.display()))
}
