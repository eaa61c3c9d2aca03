//! The particulars of a built cover, for the outputs that say more than they show.

use crate::output::{NotedFinding, NotedMeasure, Particulars};
use crate::record::{Built, located};

pub fn particulars(built: &Built) -> Particulars {
    let findings = built.findings.iter().map(|finding| {
        let found = located(&built.files, finding);
        NotedFinding {
            severity: finding.severity,
            rule: finding.rule,
            message: found.message,
            help: found.help,
            line: format!("{}:{}", found.file, found.line),
            place: finding.place,
        }
    });
    let design = built.design.as_ref();
    let measures = design.map_or(&[][..], |design| &design.measures).iter().map(|measure| NotedMeasure {
        name: measure.name.clone(),
        value: measure.value,
        unit: measure.unit,
        sum: measure.sum.clone(),
    });
    Particulars {
        facts: design.map_or_else(Vec::new, |design| design.facts.clone()),
        safe: design.map_or_else(Vec::new, |design| design.safe.clone()),
        keyline: design.map_or_else(Vec::new, |design| design.keyline.clone()),
        ink_limit: design.map(|design| design.ink_limit),
        measures: measures.collect(),
        findings: findings.collect(),
        unlisted: built.findings.left_out(),
    }
}
