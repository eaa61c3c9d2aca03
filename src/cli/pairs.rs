//! Pairs: which of the old designs belongs to which of the new ones.
#![expect(clippy::disallowed_methods, reason = "a typed name may be a file or a folder; the disk knows")]

use crate::assets::Shelf;
use crate::cli::covers::tell;
use crate::cli::design::{DesignSource, REPORT};
use crate::disk::Disk;
use crate::record::CoverRequest;
use crate::targets::{COVER, Past, Refusal, Selection, Target, find_targets};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// One of the two may be missing.
#[derive(Debug, PartialEq)]
pub struct DesignPair {
    pub old: Option<DesignSource>,
    pub new: Option<DesignSource>,
}

/// A design and what it is matched by among others: its path from the folder that was typed, and its stem.
#[derive(Clone, Debug)]
struct FoundDesign {
    path: String,
    stem: String,
    source: DesignSource,
}

/// One and one are a pair; of several, those with one path, and a cover and a report by the cover's name.
pub fn pairs(old: &Path, new: &Path, editions: &[String]) -> Result<Vec<DesignPair>, Refusal> {
    let (was, now) = (found(old, editions)?, found(new, editions)?);
    if let ([one], [other]) = (&was[..], &now[..]) {
        return Ok(vec![DesignPair { old: Some(one.source.clone()), new: Some(other.source.clone()) }]);
    }
    let kind = |found: &FoundDesign| matches!(found.source, DesignSource::Report { .. });
    let same = |one: &FoundDesign, other: &FoundDesign| {
        if kind(one) == kind(other) { one.path == other.path } else { one.stem == other.stem }
    };
    let mut pairs = Vec::new();
    for one in &now {
        let old = was.iter().find(|other| same(one, other)).map(|other| other.source.clone());
        pairs.push(DesignPair { old, new: Some(one.source.clone()) });
    }
    let gone = was.iter().filter(|one| !now.iter().any(|other| same(one, other)));
    pairs.extend(gone.map(|one| DesignPair { old: Some(one.source.clone()), new: None }));
    Ok(pairs)
}

/// Every cover of now with itself as a revision has it; those that only the revision has come last.
pub fn with_past(new: &Path, revision: &str, editions: &[String]) -> Result<Vec<DesignPair>, Refusal> {
    let now = found(new, editions)?;
    let mut opened: BTreeMap<PathBuf, Arc<Past>> = BTreeMap::new();
    let mut open = |folder: &Path| -> Result<Arc<Past>, Refusal> {
        if let Some(past) = opened.get(folder) {
            return Ok(past.clone());
        }
        let past = Past::open(folder, revision)?;
        Ok(opened.entry(folder.to_owned()).or_insert(Arc::new(past)).clone())
    };
    let mut pairs = Vec::new();
    for FoundDesign { source, .. } in &now {
        let DesignSource::Cover(target) = source else {
            let help = "name a cover; a report is compared with a report: `jaconet compare OLD NEW`";
            return Err((format!("{} is a report, which has no past of its own", source.shown()), help.to_owned()));
        };
        let past = open(&target.folder)?;
        let shown = format!("{} at {revision}", target.name);
        let old = past.request(target).map(|request| DesignSource::Past { past, request, shown });
        if old.is_none() && now.len() == 1 {
            let help = "an older name can be compared through a copy: `jaconet compare OLD NEW`";
            return Err((format!("{} is not in the revision `{revision}`", target.name), help.to_owned()));
        }
        pairs.push(DesignPair { old, new: Some(source.clone()) });
    }
    if new.is_dir() && !new.join(COVER).is_file() {
        let past = open(new)?;
        let gone = |path: &String| path.rsplit('/').next() == Some(COVER) && !new.join(path).is_file();
        for path in past.below().into_iter().filter(gone) {
            let shown = format!("{} at {revision}", new.join(&path).display());
            let old = DesignSource::Past { past: past.clone(), request: CoverRequest::of(&path), shown };
            pairs.push(DesignPair { old: Some(old), new: None });
        }
    }
    Ok(pairs)
}

/// The designs that a typed name stands for: reports, or covers as a build finds them.
fn found(typed: &Path, editions: &[String]) -> Result<Vec<FoundDesign>, Refusal> {
    if typed.extension().is_some_and(|ending| ending == "json") && !typed.is_dir() {
        return Ok(vec![report(typed, "")]);
    }
    let selection = Selection { files: vec![typed.to_owned()], editions: editions.to_vec(), ..Selection::default() };
    let refused = match find_targets(&selection) {
        Ok(list) if !list.targets.is_empty() => {
            tell(&list);
            return Ok(list.targets.into_iter().map(|target| cover(target, typed)).collect());
        }
        Ok(_) => None,
        Err(refused) => Some(refused),
    };
    let below = if typed.is_dir() { Disk::new(typed).list(".") } else { Vec::new() };
    let reports = below.iter().map(|path| path.trim_start_matches("./")).filter(|path| path.ends_with(REPORT));
    let reports = reports.filter(|path| editions.is_empty() || is_of(&typed.join(path), editions));
    let reports: Vec<FoundDesign> = reports.map(|path| report(&typed.join(path), path)).collect();
    if !reports.is_empty() {
        return Ok(reports);
    }
    let help = format!("a design is a cover, a folder with covers, or a built report (STEM{REPORT})");
    Err(refused.unwrap_or((format!("{} holds neither a cover nor a report", typed.display()), help)))
}

/// Whether a report is of one of these editions.
fn is_of(report: &Path, editions: &[String]) -> bool {
    let report = std::fs::read(report).unwrap_or_default();
    let report: serde_json::Value = serde_json::from_slice(&report).unwrap_or_default();
    report["edition"].as_str().is_some_and(|edition| editions.iter().any(|wanted| wanted == edition))
}

fn report(file: &Path, path: &str) -> FoundDesign {
    let name = file.file_name().and_then(|name| name.to_str()).unwrap_or_default();
    let stem = name.strip_suffix(REPORT).unwrap_or(name).to_owned();
    let source = DesignSource::Report { path: file.to_owned(), shown: file.display().to_string() };
    FoundDesign { path: path.to_owned(), stem, source }
}

/// A file may hold several: its titles and editions.
fn cover(target: Target, typed: &Path) -> FoundDesign {
    let file = Path::new(&target.shown);
    let path = file.strip_prefix(typed).unwrap_or(Path::new("")).to_string_lossy().into_owned();
    let stem = target.request.title.as_ref().map_or("", |title| &title.stem);
    let edition = target.request.edition.as_deref().unwrap_or_default();
    FoundDesign {
        path: format!("{path}#{stem}#{edition}"),
        stem: target.stem.clone(),
        source: DesignSource::Cover(target),
    }
}
