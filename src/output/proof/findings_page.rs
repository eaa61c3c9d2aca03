//! Every finding of the report, in its order, with the number that it has on the wrap.

use crate::ground::Severity;
use crate::output::entry::OutputJob;
use crate::output::particulars::NotedFinding;
use crate::output::proof::flow::{LEFT, ProofFlow, RIGHT};
use crate::output::proof::pen::{BADGE, FAINT, TypeLook, column_height};

/// Left edges and widths of what is said and of where it stands.
const SAID: (f64, f64) = (LEFT + 9.0, 106.0);
const WHERE: (f64, f64) = (LEFT + 121.0, RIGHT - LEFT - 121.0);
/// Over and under each row.
const AIR: f64 = 1.7;
/// Between a message and the way out.
const HELP: f64 = 0.7;

pub fn write(job: &OutputJob<'_>, flow: &mut ProofFlow) {
    let particulars = job.particulars;
    flow.heading("Findings");
    flow.row(&[(&summary(job), TypeLook::quiet(), LEFT, RIGHT - LEFT)]);
    flow.y += 3.0;
    for (finding, number) in particulars.findings.iter().zip(1..) {
        row(flow, finding, number);
    }
    if particulars.findings.is_empty() {
        flow.y += 3.0;
    } else {
        flow.pen.hairline((LEFT, flow.y), (RIGHT, flow.y), FAINT);
        flow.turn();
    }
}

fn row(flow: &mut ProofFlow, finding: &NotedFinding, number: usize) {
    let (text, quiet) = (TypeLook::text(), TypeLook::quiet());
    let help = finding.help.as_deref().unwrap_or_default();
    let place = format!("{}, {}\n{}", finding.severity.word(), finding.rule, finding.line);
    let message = column_height(&finding.message, &text, SAID.1);
    let said = message + if help.is_empty() { 0.0 } else { HELP + column_height(help, &quiet, SAID.1) };
    let height = said.max(column_height(&place, &quiet, WHERE.1)).max(BADGE) + 2.0 * AIR;
    flow.room(height);
    flow.pen.hairline((LEFT, flow.y), (RIGHT, flow.y), FAINT);
    let y = flow.y + AIR;
    flow.pen.badge(number, finding.severity, (LEFT + BADGE / 2.0, y + BADGE / 2.0 - 0.2));
    flow.pen.column(&finding.message, &text, (SAID.0, y), SAID.1);
    flow.pen.column(help, &quiet, (SAID.0, y + message + HELP), SAID.1);
    flow.pen.column(&place, &quiet, (WHERE.0, y), WHERE.1);
    flow.y += height;
}

/// `2 errors, 1 note. The numbers are those on the first page.`
fn summary(job: &OutputJob<'_>) -> String {
    let particulars = job.particulars;
    if particulars.findings.is_empty() {
        return "The check found nothing.".to_owned();
    }
    let kinds = [Severity::Error, Severity::Warning, Severity::Note].map(|severity| {
        let count = particulars.findings.iter().filter(|finding| finding.severity == severity).count();
        let ending = if count == 1 { "" } else { "s" };
        (count > 0).then(|| format!("{count} {}{ending}", severity.word()))
    });
    let kinds: Vec<String> = kinds.into_iter().flatten().collect();
    let held = if job.findings.has_errors() { " With errors there is no press file." } else { "" };
    let more = match particulars.unlisted {
        0 => String::new(),
        more => format!(" {more} more are not listed."),
    };
    format!("{}. Those with a place are marked by their number on page 1.{held}{more}", kinds.join(", "))
}
