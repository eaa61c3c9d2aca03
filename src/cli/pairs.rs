//! Pairs: which of the old designs belongs to which of the new ones.
#![expect(clippy::disallowed_methods, reason = "a typed name may be a file or a folder; the disk knows")]

use crate::assets::Shelf;
use crate::build::{COVER, Disk, Past};
use crate::cli::design::{REPORT, Source};
use crate::cli::covers::targets;
use std::path::Path;

/// One of the two may be missing.
#[derive(Debug, PartialEq)]
pub struct Pair {
    pub old: Option<Source>,
    pub new: Option<Source>,
}

/// Why it cannot be, and a way out.
type Fault = (String, String);

/// A design and what it is matched by among others: its path from the folder that was typed, and its stem.
#[derive(Clone, Debug)]
struct Found {
    path: String,
    stem: String,
    source: Source,
}

/// One and one are a pair; of several, those with one path, and a cover and a report by the cover's name.
pub fn pairs(old: &Path, new: &Path) -> Result<Vec<Pair>, Fault> {
    let (was, now) = (found(old)?, found(new)?);
    if let ([one], [other]) = (&was[..], &now[..]) {
        return Ok(vec![Pair { old: Some(one.source.clone()), new: Some(other.source.clone()) }]);
    }
    let kind = |found: &Found| matches!(found.source, Source::Report { .. });
    let same = |one: &Found, other: &Found| {
        if kind(one) == kind(other) { one.path == other.path } else { one.stem == other.stem }
    };
    let mut pairs = Vec::new();
    for one in &now {
        let old = was.iter().find(|other| same(one, other)).map(|other| other.source.clone());
        pairs.push(Pair { old, new: Some(one.source.clone()) });
    }
    let gone = was.iter().filter(|one| !now.iter().any(|other| same(one, other)));
    pairs.extend(gone.map(|one| Pair { old: Some(one.source.clone()), new: None }));
    Ok(pairs)
}

/// Every cover of now with itself as a revision has it; those that the revision alone has come last.
pub fn with_past(new: &Path, revision: &str) -> Result<Vec<Pair>, Fault> {
    let now = found(new)?;
    let mut pairs = Vec::new();
    for Found { source, .. } in &now {
        let Source::Cover(target) = source else {
            let help = "name a cover; a report is compared with a report: `jaconet compare OLD NEW`";
            return Err((format!("{} is a report, which has no past of its own", source.shown()), help.to_owned()));
        };
        let past = Past::open(&target.folder, revision).map_err(|fault| (fault.why, fault.help))?;
        let shown = format!("{} at {revision}", target.name);
        let was = past.has(&target.commission.path);
        let old = Source::Past { target: target.clone(), revision: revision.to_owned(), shown };
        if !was && now.len() == 1 {
            let help = "an older name can be compared through a copy: `jaconet compare OLD NEW`";
            return Err((format!("{} is not in the revision `{revision}`", target.shown), help.to_owned()));
        }
        pairs.push(Pair { old: was.then_some(old), new: Some(source.clone()) });
    }
    if new.is_dir() && !new.join(COVER).is_file() {
        let past = Past::open(new, revision).map_err(|fault| (fault.why, fault.help))?;
        let kept = |path: &String| path.rsplit('/').next() == Some(COVER) && !new.join(path).is_file();
        for path in past.below().into_iter().filter(kept) {
            for Found { source, .. } in of_file(&new.join(&path), &path)? {
                let Source::Cover(target) = source else { continue };
                let shown = format!("{} at {revision}", target.name);
                let old = Source::Past { target, revision: revision.to_owned(), shown };
                pairs.push(Pair { old: Some(old), new: None });
            }
        }
    }
    Ok(pairs)
}

/// The designs that a typed name stands for.
fn found(typed: &Path) -> Result<Vec<Found>, Fault> {
    if !typed.is_dir() {
        return of_file(typed, "");
    }
    if typed.join(COVER).is_file() {
        return of_file(&typed.join(COVER), "");
    }
    let below = Disk::new(typed).list(".");
    let below = || below.iter().map(|path| path.trim_start_matches("./"));
    let covers: Vec<&str> = below().filter(|path| path.rsplit('/').next() == Some(COVER)).collect();
    let reports: Vec<&str> = below().filter(|path| path.ends_with(REPORT)).collect();
    let chosen = if covers.is_empty() { reports } else { covers };
    if chosen.is_empty() {
        let help = format!("a design is a cover file, a folder with a {COVER}, or a built report (STEM{REPORT})");
        return Err((format!("{} holds neither a cover nor a report", typed.display()), help));
    }
    let mut found = Vec::new();
    for path in chosen {
        found.extend(of_file(&typed.join(path), path)?);
    }
    Ok(found)
}

/// A file may hold several designs: its titles and editions.
fn of_file(file: &Path, path: &str) -> Result<Vec<Found>, Fault> {
    let shown = file.display().to_string();
    let name = file.file_name().and_then(|name| name.to_str()).unwrap_or_default();
    if file.extension().is_some_and(|ending| ending == "json") {
        let stem = name.strip_suffix(REPORT).unwrap_or(name).to_owned();
        let source = Source::Report { path: file.to_owned(), shown };
        return Ok(vec![Found { path: path.to_owned(), stem, source }]);
    }
    let targets = targets(&[file.to_owned()], None);
    let targets = targets.ok_or_else(|| (format!("{shown} cannot be compared"), String::new()))?;
    let several = targets.len() > 1;
    let found = targets.into_iter().map(|target| {
        let path = if several { format!("{path}#{}", target.stem) } else { path.to_owned() };
        Found { path, stem: target.stem.clone(), source: Source::Cover(target) }
    });
    Ok(found.collect())
}
