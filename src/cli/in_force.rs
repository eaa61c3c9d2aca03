//! In force: the limits of a rule as they hold for covers, and the line where each was set.

use crate::check::{LimitInForce, limits_in_force};
use crate::cli::covers::called;
use crate::cli::exit::Exit;
use crate::cli::location::beside;
use crate::cli::reply::{findings, unread};
use crate::cli::say;
use crate::compile::{Workshop, limits};
use crate::disk::Disk;
use crate::record::Built;
use crate::targets::{Selection, Target};
use std::path::Path;

/// Says them of every cover that a file stands for.
pub fn in_force(rule: &str, file: &Path) -> Exit {
    let selection = Selection { files: vec![file.to_owned()], ..Selection::default() };
    let Some((list, mut exit)) = called(&selection) else { return Exit::Stopped };
    let workshop = Workshop::default();
    for target in &list.targets {
        let (built, stated) = match limits(&workshop, &Disk::new(&target.folder), &target.request) {
            Ok(both) => both,
            Err(fault) => {
                say::stopped(&unread(target, &fault), "");
                return Exit::Stopped;
            }
        };
        let all = limits_in_force(rule, &stated);
        if all.is_empty() {
            say::stopped(&format!("`{rule}` has no limits"), "`jaconet explain limit` says which rules have some");
            return Exit::Stopped;
        }
        for text in findings(target, &built) {
            say::error(&text.words);
        }
        exit = exit.max(Exit::from(&built.findings));
        let lines: String = all.iter().map(|limit| line(target, &built, limit)).collect();
        say::out(&format!("\nIn force for {}:\n\n{lines}", target.name));
    }
    exit
}

/// `  error       4 mm     house.kdl:3, in place of 3 mm`
fn line(target: &Target, built: &Built, limit: &LimitInForce) -> String {
    let from = match limit.set {
        None => format!("usual: {}", limit.source),
        Some(span) => {
            let file = beside(&target.shown, &built.files.path(span.file).unwrap_or_default());
            let line = built.files.line_column(span).map_or(1, |(line, _)| line);
            format!("{file}:{line}, in place of {}", limit.usual)
        }
    };
    format!("  {:<18}{:<10}{from}\n", limit.name, limit.value)
}
