//! PDFs of printers: one that came back against the press PDF that was sent, and a keyline against our sheet.

use crate::check::keyline_differences;
use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::flags::ReportArgs;
use crate::cli::reply::unread;
use crate::cli::say::{self, count, stopped, visible};
use crate::compile::{Workshop, build};
use crate::disk::Disk;
use crate::ground::Severity;
use crate::printed::{PdfDifference, PrintedPage, differences, known_page, read_pdf};
use crate::targets::Selection;
use serde_json::json;
use std::path::Path;
use std::sync::Arc;

/// What two files have that can be told without rendering them, and what cannot.
const UNSEEN: &str = "compared are boxes, colours and the areas painted in them, fonts, overprint, pictures by size, kind and \
                      mean ink, and the output condition of the first page; not what lies over what, what is cut out, \
                      gradients, transparency and the shapes of letters";

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
    let (sent, back) = match (read(ours), read(returned)) {
        (Ok(sent), Ok(back)) => (sent, back),
        (Err(why), _) | (_, Err(why)) => {
            stopped(&why, "name the press PDF that was sent, then the one that came back");
            return Exit::Stopped;
        }
    };
    let all = differences(&sent, &back);
    if report.for_people() {
        people(&all);
        let sum = sum(&all, "nothing was lost or changed");
        say::out(&format!("{}: {sum}\n{UNSEEN}\n", visible(&returned.display().to_string())));
    }
    let mut exit = worst(&all);
    if report.for_programs() {
        let shown = [ours, returned].map(|path| path.to_string_lossy().into_owned());
        let report_object = json!({ "ours": shown[0], "returned": shown[1], "differences": all, "not-compared": ["order", "cut-outs", "gradients", "transparency", "letters"] });
        exit = exit.max(report.hand_over(&say::json(&format_args!("{report_object:#}"))));
    }
    exit
}

fn people(all: &[PdfDifference]) {
    let lines = all.iter().map(|one| format!("{}: {} ({})\n", one.severity.word(), one.message, one.about));
    say::out(&visible(&lines.collect::<String>()));
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

fn read(path: &Path) -> Result<PrintedPage, String> {
    read_pdf(&bytes(path)?).map_err(|why| format!("{}: {why}", path.display()))
}

#[expect(clippy::disallowed_methods, reason = "these files are named by hand and are no part of a cover")]
fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    std::fs::read(path).map_err(|why| format!("{}: {why}", path.display()))
}
