//! Findings that come and go, known by rule and words, not by line.

use crate::compare::change::{Changes, Topic};
use crate::record::ReportedFinding;
use std::collections::BTreeSet;

pub fn compare(old: &[ReportedFinding], new: &[ReportedFinding], changes: &mut Changes) {
    let [was, now]: [BTreeSet<&ReportedFinding>; 2] = [old.iter().collect(), new.iter().collect()];
    // Worst first.
    for remark in now.iter().rev().filter(|remark| !was.contains(*remark)) {
        let reported = reported(remark);
        changes.push(Topic::Finding, &remark.rule, (None, Some(reported.clone())), format!("appears: {reported}"));
    }
    for remark in was.iter().rev().filter(|remark| !now.contains(*remark)) {
        let reported = reported(remark);
        changes.push(Topic::Finding, &remark.rule, (Some(reported.clone()), None), format!("is gone: {reported}"));
    }
}

fn reported(remark: &ReportedFinding) -> String {
    format!("{}: {}", remark.severity.word(), remark.message)
}
