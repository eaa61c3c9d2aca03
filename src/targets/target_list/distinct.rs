//! Distinct: every cover once, and no two that write one file.
#![expect(clippy::disallowed_methods, reason = "two typed names may lead to one folder; the disk knows")]

use crate::record::CoverRequest;
use crate::targets::target::{Refusal, Target};
use crate::typeset::composed;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// A cover is built once, however it was typed, and though its series was, too.
pub fn once(targets: &mut Vec<Target>) {
    let mut folders = BTreeMap::new();
    let mut done = BTreeSet::new();
    targets.retain(|target| {
        let real = |folder: &PathBuf| std::fs::canonicalize(folder).unwrap_or_else(|_| folder.clone());
        let folder = folders.entry(target.folder.clone()).or_insert_with_key(real).clone();
        let CoverRequest { path, edition, title, .. } = &target.request;
        let row = title.as_ref().map(|title| (title.sheet.path.clone(), title.row));
        done.insert((folder, path.clone(), edition.clone(), row))
    });
}

/// Two covers never write one file, on a disk, too, that knows neither capitals nor two ways of writing an accent.
pub fn unlike(targets: &[Target]) -> Result<(), Refusal> {
    let mut names: BTreeMap<(&Path, String), &Target> = BTreeMap::new();
    for target in targets {
        if let Some(other) = names.insert((&target.out, composed(&target.stem.to_lowercase())), target) {
            let why = format!("{} and {} would both write {}-press.pdf", other.name, target.name, target.stem);
            let help = if target.request.title.is_some() {
                "name one of the two titles otherwise, in a column `stem`".to_owned()
            } else {
                format!("build them into folders of their own: both go to {}", target.out.display())
            };
            return Err((why, help));
        }
    }
    Ok(())
}
