//! The stages from tree to scene: read, draw, check.

use crate::check::{InkSums, MeasuredPlates, check, drift_of, limit_words, measured_plates, rehearse, standing};
use crate::compile::alike::alike;
use crate::compile::stage_tools::{StageTools, output_words};
use crate::cover;
use crate::cover::Measure;
use crate::language::Desk;
use crate::language::{printer_asks, read};
use crate::record::{
    CoverRequest, Design, ReportedInkOver, ReportedPlate, area, book_facts, levels, safe_areas, triable,
};
use crate::scene::Scene;
use crate::targets::LaidCover;
use std::sync::Arc;

/// What is asked of the drawn cover.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Questions {
    Check,
    Drift,
}

/// Read, draw, check. `None` only when there is nothing to draw on.
pub fn design(
    tools: &StageTools<'_>,
    laid: &LaidCover,
    (request, questions): (&CoverRequest, Questions),
) -> Option<Design> {
    let tree = &laid.tree;
    if tree.nodes.is_empty() {
        return None;
    }
    let outputs = output_words(tools.workshop);
    let alike = alike(tools, laid, request);
    let desk = Desk {
        shelf: tools.shelf,
        darkroom: &tools.workshop.darkroom,
        library: tools.typesetter.library(),
        files: tools.files,
        findings: tools.findings,
        outputs: &outputs,
        rules: limit_words(),
        alike: &alike.sizes,
    };
    let mut cover = read(&desk, tree);
    if let Some(printer) = &laid.printer {
        cover.facts.printer = Arc::new(printer_asks(&desk, printer, &cover.facts));
    }
    tools.workshop.lap("read");
    let mut scene = cover::draw(tools.findings, &cover, tools.typesetter);
    scene.job.standing = Some(standing(&cover, &scene));
    tools.workshop.lap("draw");
    let darkroom = &tools.workshop.darkroom;
    let is_measured = questions == Questions::Check && scene.sheet.pixels.is_none();
    let measured = is_measured.then(|| measured_plates(&scene, darkroom));
    let measured = measured.as_ref();
    let ink_limit = cover.facts.press.ink_limit;
    let ink_over = measured.and_then(|measured| ink_over(&measured.sums, ink_limit));
    let plates = measured.map_or_else(Vec::new, |measured| plates_of(&scene, measured));
    tools.workshop.lap("plates");
    match questions {
        Questions::Check => check(tools.findings, &cover, &scene, measured, darkroom, tools.workshop.laps()),
        Questions::Drift => rehearse(tools.findings, &cover, &scene, darkroom),
    }
    let measures = whole(&cover.flat.measures);
    let order = cover.facts.book.word("in-series.number").and_then(|number| number.parse().ok());
    let delivery = cover.facts.delivery.clone();
    Some(Design {
        scene,
        measures,
        delivery,
        order,
        facts: book_facts(&cover),
        safe: safe_areas(&cover),
        keyline: cover.facts.keyline.as_ref().map_or_else(Vec::new, |page| page.on_sheet(cover.flat.sheet.trim)),
        levels: levels(&cover),
        ink_limit,
        plates,
        ink_over,
        drift: drift_of(&cover.facts.limits),
        triable: triable(&cover, tree),
        alike: alike.reported,
    })
}

/// What each plate covers of a printed sheet.
fn plates_of(scene: &Scene, measured: &MeasuredPlates) -> Vec<ReportedPlate> {
    let rounded = |value: f64| (value * 1000.0).round() / 1000.0;
    let (line, carrier) = (scene.job_line().join(", "), scene.job_ink().0);
    let plates = measured.plates.uses().into_iter().map(|plate| ReportedPlate {
        job_line: (plate.name == carrier).then(|| line.clone()),
        name: plate.name,
        percent: rounded(plate.share * 100.0),
        cm2: rounded(plate.area / 100.0),
        sha256: plate.digest.to_string(),
    });
    plates.collect()
}

/// Where more ink lies together on a printed sheet than the press takes.
fn ink_over(sums: &InkSums, limit: f64) -> Option<ReportedInkOver> {
    let over = sums.over(limit)?;
    let rounded = |value: f64| (value * 10.0).round() / 10.0;
    Some(ReportedInkOver {
        limit: rounded(limit * 100.0),
        most: rounded(over.most * 100.0),
        cm2: (over.area * 10.0).round() / 1000.0,
        place: area(over.place),
    })
}

/// To the micrometre: sums of decimals leave crumbs that no one measures.
pub fn whole(measures: &[Measure]) -> Vec<Measure> {
    let whole = |measure: &Measure| Measure { value: (measure.value * 1000.0).round() / 1000.0, ..measure.clone() };
    measures.iter().map(whole).collect()
}
