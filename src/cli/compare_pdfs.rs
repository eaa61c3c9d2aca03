//! What was lost or changed between the press PDF that was sent to a printer and one that came back.

use crate::cli::exit::Exit;
use crate::cli::flags::ReportArgs;
use crate::cli::say::{self, count, stopped, visible};
use crate::ground::Severity;
use crate::printed::{PdfDifference, PrintedPage, differences, read_pdf};
use serde_json::json;
use std::path::Path;

/// What two files have that can be told without rendering them, and what cannot.
const UNSEEN: &str = "compared are boxes, spot inks in use, fonts, overprint, pictures by size and kind, and the output \
                      condition of the first page; not what its colours look like";

/// Whether both are PDFs.
pub fn are_pdfs(old: &Path, new: &Path) -> bool {
    let is_pdf = |path: &Path| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"));
    is_pdf(old) && is_pdf(new)
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
        let lines = all.iter().map(|one| format!("{}: {} ({})\n", one.severity.word(), one.message, one.about));
        say::out(&visible(&lines.collect::<String>()));
        say::out(&format!("{}: {}\n{UNSEEN}\n", visible(&returned.display().to_string()), sum(&all)));
    }
    let mut exit = if all.iter().any(|one| one.severity == Severity::Error) { Exit::Errors } else { Exit::Clean };
    if report.for_programs() {
        let shown = [ours, returned].map(|path| path.to_string_lossy().into_owned());
        let report_object =
            json!({ "ours": shown[0], "returned": shown[1], "differences": all, "not-compared": "colours" });
        exit = exit.max(report.hand_over(&say::json(&format_args!("{report_object:#}"))));
    }
    exit
}

fn sum(all: &[PdfDifference]) -> String {
    if all.is_empty() { "nothing was lost or changed".to_owned() } else { count(all.len(), "difference") }
}

#[expect(clippy::disallowed_methods, reason = "these files are named by hand and are no part of a cover")]
fn read(path: &Path) -> Result<PrintedPage, String> {
    let bytes = std::fs::read(path).map_err(|why| format!("{}: {why}", path.display()))?;
    read_pdf(&bytes).map_err(|why| format!("{}: {why}", path.display()))
}
