//! The targets: from what was typed to the covers that are meant: a cover and its editions, the covers of a series, the titles
//! of a catalogue, all of a folder.
#![expect(clippy::disallowed_methods, reason = "`.` has a name only after the disk has been asked")]

mod distinct;
#[cfg(test)]
mod tests;
mod typed;

use crate::assets::nearest;
use crate::disk::OUT;
use crate::disk::{Disk, Seen};
use crate::ground::Digest;
use crate::record::{Built, CoverRequest};
use crate::source::offer;
use crate::targets::catalogue::{catalogue, is_catalogue};
use crate::targets::dependants::{dependants, read};
use crate::targets::target::{COVER, KnownCover, Refusal, Target};
use crate::targets::variants;
use distinct::{once, unlike};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use typed::{files, states_pages};

/// What was typed.
#[derive(Clone, Debug, Default)]
pub struct Selection {
    pub files: Vec<PathBuf>,
    pub out: Option<PathBuf>,
    /// Editions by name; empty: all.
    pub editions: Vec<String>,
    /// Titles of catalogues by stem; empty: all.
    pub titles: Vec<String>,
    pub share: Option<Share>,
}

/// One of several parts of equal standing, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    pub part: u32,
    pub of: u32,
}

#[derive(Default)]
pub struct TargetList {
    pub targets: Vec<Target>,
    /// Catalogues, and what is wrong with each as a whole.
    pub catalogues: Vec<(String, Built)>,
    /// Every cover of these files, whether it was asked for or not.
    pub known: Vec<KnownCover>,
    /// What was looked at to know the targets.
    pub seen: Seen,
    /// The editions that any of the covers has.
    editions: BTreeSet<String>,
    /// Some files cannot be read, and might have more covers.
    pub is_partial: bool,
}

pub fn find_targets(selection: &Selection) -> Result<TargetList, Refusal> {
    find_targets_and_seen(selection).1
}

/// The targets, and what was looked at even when they cannot be had.
pub fn find_targets_and_seen(selection: &Selection) -> (Seen, Result<TargetList, Refusal>) {
    let mut list = TargetList::default();
    let filled = fill(&mut list, selection);
    (list.seen.clone(), filled.map(|()| list))
}

fn fill(list: &mut TargetList, selection: &Selection) -> Result<(), Refusal> {
    let mut done = BTreeSet::new();
    for typed in &selection.files {
        for path in files(typed, &mut list.seen)? {
            if done.insert(path.components().collect::<PathBuf>()) {
                add(list, selection, &path)?;
            }
        }
    }
    if !list.is_partial {
        known_editions(&list.editions, selection)?;
        known_titles(&list.targets, selection)?;
    }
    once(&mut list.targets);
    pick(&mut list.targets, selection);
    unlike(&list.targets)?;
    if let Some(share) = selection.share {
        list.targets.retain(|target| share.holds(&target.stem));
    }
    Ok(())
}

impl Share {
    /// Whether a cover is of this part: by its name alone, so that more titles move no others.
    pub fn holds(self, stem: &str) -> bool {
        let digest = Digest::of(stem.as_bytes());
        let number = digest.bytes().first_chunk::<8>().map_or(0, |bytes| u64::from_le_bytes(*bytes));
        number % u64::from(self.of.max(1)) + 1 == u64::from(self.part)
    }
}

/// Adds what a file stands for.
fn add(list: &mut TargetList, selection: &Selection, path: &Path) -> Result<(), Refusal> {
    if path.extension().is_some_and(|end| end.eq_ignore_ascii_case("csv") || end.eq_ignore_ascii_case("json")) {
        let help = "name the catalogue file that names the table; see `jaconet explain catalogue`";
        return Err((format!("{} is a table, not a cover", path.display()), help.to_owned()));
    }
    let base = target(path, selection)?;
    let disk = Disk::new(&base.folder);
    let tree = read(&disk, &base.request.path);
    if tree.as_ref().is_some_and(is_catalogue) {
        titles(list, selection, &base, &disk);
        list.seen.0.extend(disk.seen().0);
        return Ok(());
    }
    let series = tree.filter(|tree| !states_pages(tree));
    let below = series.map_or_else(Vec::new, |_| dependants(&disk, &base.request.path));
    if below.is_empty() {
        add_variants(list, selection, &base, &variants(&disk, &base.request));
    } else {
        for path in below {
            let path = if base.folder == Path::new(".") { PathBuf::from(path) } else { base.folder.join(path) };
            let base = target(&path, selection)?;
            let disk = Disk::new(&base.folder);
            add_variants(list, selection, &base, &variants(&disk, &base.request));
            list.seen.0.extend(disk.seen().0);
        }
    }
    list.seen.0.extend(disk.seen().0);
    Ok(())
}

/// Adds a cover and its editions, as far as they are wished for.
fn add_variants(list: &mut TargetList, selection: &Selection, base: &Target, variants: &[Option<String>]) {
    list.editions.extend(variants.iter().flatten().cloned());
    let stem = |edition: &Option<String>| match edition {
        Some(edition) => format!("{}-{edition}", base.stem),
        None => base.stem.clone(),
    };
    let known = |variant: &Option<String>| KnownCover {
        source: PathBuf::from(&base.shown),
        out: base.out.clone(),
        stem: stem(variant),
    };
    list.known.extend(variants.iter().map(known));
    if variants.is_empty() {
        list.is_partial = true;
        list.targets.push(base.clone());
    }
    let wanted = |edition: &String| selection.editions.is_empty() || selection.editions.contains(edition);
    for variant in variants {
        let Some(edition) = variant else {
            if selection.editions.is_empty() {
                list.targets.push(base.clone());
            }
            continue;
        };
        if wanted(edition) {
            list.targets.push(Target {
                name: format!("{} ({edition})", base.name),
                stem: stem(variant),
                request: CoverRequest { edition: Some(edition.clone()), ..base.request.clone() },
                ..base.clone()
            });
        }
    }
}

/// Adds the titles of a catalogue, with the editions that the template knows.
fn titles(list: &mut TargetList, selection: &Selection, base: &Target, disk: &Disk) {
    let Ok(catalogue) = catalogue(disk, &base.request.path) else { return };
    let template = CoverRequest { path: catalogue.template, ..base.request.clone() };
    let variants = variants(disk, &template);
    for entry in catalogue.titles {
        // The second of two rows of one stem has errors, and must not write over the first, nor over any other: no stem
        // holds a plus.
        let number = entry.row().map_or(0, |row| row.number);
        let stem = if entry.is_twin { format!("{}+row-{number}", entry.stem) } else { entry.stem.clone() };
        let title = Target {
            name: stem.clone(),
            stem,
            request: CoverRequest { title: Some(entry), ..template.clone() },
            ..base.clone()
        };
        add_variants(list, selection, &title, &variants);
    }
    list.is_partial |= catalogue.outcome.findings.has_errors();
    list.catalogues.push((base.shown.clone(), catalogue.outcome));
}

/// An edition that no cover has is a slip.
fn known_editions(known: &BTreeSet<String>, selection: &Selection) -> Result<(), Refusal> {
    let Some(unknown) = selection.editions.iter().find(|wanted| !known.contains(*wanted)) else { return Ok(()) };
    let known: Vec<&str> = known.iter().map(String::as_str).collect();
    let help = if known.is_empty() {
        "write `edition case { … }` at the top of the cover; see `jaconet explain edition`".to_owned()
    } else {
        offer(unknown, &known)
    };
    Err((format!("no cover here has an edition `{unknown}`"), help))
}

/// A title that no catalogue has is a slip.
fn known_titles(targets: &[Target], selection: &Selection) -> Result<(), Refusal> {
    let known: Vec<&str> = targets.iter().filter_map(title_of).collect();
    let Some(unknown) = selection.titles.iter().find(|wanted| !known.contains(&wanted.as_str())) else { return Ok(()) };
    let help = match nearest(unknown, known.into_iter()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "titles are named by their stem: the column `stem`, or the title in small letters with hyphens".into(),
    };
    Err((format!("no catalogue here has a title `{unknown}`"), help))
}

/// The titles that were asked for.
fn pick(targets: &mut Vec<Target>, selection: &Selection) {
    let wanted =
        |target: &Target| title_of(target).is_some_and(|stem| selection.titles.iter().any(|wanted| wanted == stem));
    targets.retain(|target| selection.titles.is_empty() || wanted(target));
}

fn title_of(target: &Target) -> Option<&str> {
    target.request.title.as_ref().map(|entry| entry.stem.as_str())
}

/// A cover as its file stands.
fn target(path: &Path, selection: &Selection) -> Result<Target, Refusal> {
    let name = path.file_name().and_then(|name| name.to_str());
    let Some(file) = name.map(str::to_owned) else {
        return Err((format!("{} is not a name that can be written", path.display()), "use letters".to_owned()));
    };
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    };
    let stem = stem(&file, &folder);
    let out = selection.out.clone().unwrap_or_else(|| folder.join(OUT));
    let shown = path.display().to_string();
    let request = CoverRequest::of(&file);
    Ok(Target { name: shown.clone(), shown, folder, request, stem, out })
}

/// The folder's name for a `cover.kdl`, else the file's own.
fn stem(file: &str, folder: &Path) -> String {
    let own = file.strip_suffix(".kdl").unwrap_or(file).to_owned();
    if file != COVER {
        return own;
    }
    // `.` and `..` are names only after the disk has been asked.
    let real = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    real.file_name().and_then(|name| name.to_str()).map_or(own, str::to_owned)
}
